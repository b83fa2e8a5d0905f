"""Pictures and plan of the balcony balustrades."""

from collections.abc import Mapping
from functools import partial

import numpy as np
from PIL import Image

from tools.sample_pictures import matter, metalwork, specimens
from tools.sample_pictures.bottling_hall import Drawer
from tools.sample_pictures.fixtures import BALUSTER, break_faces
from tools.sample_pictures.plans import Plan, Scale
from workbench.records import Breaks


def _break(text: str, rng: np.random.Generator) -> Image.Image:
    return break_faces(rng, BALUSTER, Breaks.read(text))


DRAWERS: Mapping[str, Drawer] = {
    "PH-01": partial(metalwork.balcony, percents=[34, 50, 20, 36, 42, 28, 34, 30, 46, 26]),
    "PH-02": partial(metalwork.baluster, percent=45),
    "PH-03": partial(metalwork.baluster, percent=60, dust=True),
    "PH-04": partial(metalwork.baluster, percent=0),
    "PH-05": metalwork.bracket,
    "PH-06": partial(metalwork.balcony, percents=[40, 36, 0, 0, 0, 0, 0, 0, 44, 32]),
    "PH-07": partial(_break, "A/B 100"),
    "PH-08": partial(_break, "B 50; Y 50"),
    "PH-09": partial(
        specimens.chips,
        words=("S-A3 gloss face", "S-A3 back of primer"),
        faces=(matter.alkyd_gloss, matter.alkyd_back),
    ),
    "PH-10": partial(
        specimens.sealed,
        samples=(
            ("S-A3", "film", "61011"), ("S-C19", "film", "61012"), ("S-BR", "film", "61013"),
            ("S-dust", "deposit", "61014"),
        ),
    ),
}  # fmt: skip
"""What draws each photograph, by its ref."""


def plan() -> Image.Image:
    """Return the elevation of the three blocks laid out on one sheet, 30 pixels to the metre."""
    sheet = Plan((1400, 960), Scale(100, 860, 30), "Ashgrove Court, access side of blocks A, B, C")
    for block, y, first in (("A", 18.2, 1), ("B", 9.6, 9), ("C", 1.0, 17)):
        sheet.room((1, y, 38, 7.2), name=f"block {block}", wall=3)
        for k in range(8):
            x = 3.5 + 4.4 * (k % 8)
            sheet.plant((x, y + 0.9, 3.4, 1.6), f"{first + k}")
    sheet.cross(0, 0, "0 m")
    sheet.cross(40, 0, "40 m")
    sheet.bar((1050, 910), 5)
    return sheet.image
