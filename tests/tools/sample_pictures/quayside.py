"""Pictures and plan of the transition pieces on the quay."""

from collections.abc import Mapping
from functools import partial

import numpy as np
from PIL import Image

from tools.sample_pictures import matter, metalwork, specimens
from tools.sample_pictures.bottling_hall import Drawer
from tools.sample_pictures.fixtures import SHELL, break_faces
from tools.sample_pictures.plans import Plan, Scale
from workbench.records import Breaks


def _break(text: str, rng: np.random.Generator) -> Image.Image:
    return break_faces(rng, SHELL, Breaks.read(text))


DRAWERS: Mapping[str, Drawer] = {
    "PH-01": partial(metalwork.shells, percents=[31, 27, 0, 0, 18]),
    "PH-02": partial(metalwork.shell, percent=48),
    "PH-03": partial(metalwork.shell, percent=24),
    "PH-04": partial(metalwork.shell, percent=0),
    "PH-05": partial(_break, "C/D 100"),
    "PH-06": partial(_break, "Y 80; C 20"),
    "PH-07": partial(
        specimens.chips,
        words=("CH-1 outer face", "CH-1 back"),
        faces=(matter.finish, matter.finish_back),
    ),
    "PH-08": partial(
        specimens.sealed,
        samples=(("CH-1", "film", "70401"), ("CH-2", "film", "70402"), ("CH-3", "film", "70403")),
    ),
}
"""What draws each photograph, by its ref."""


def plan() -> Image.Image:
    """Return the plan of the quay: 100 m long, 12 pixels to the metre."""
    sheet = Plan((1400, 860), Scale(100, 760, 12), "Holm Quay, storage of transition pieces")
    sheet.room((0, 2, 100, 42), name="quay", wall=4)
    for k in range(12):
        x, y = 6 + (k % 6) * 16, 10 + (1 - k // 6) * 20
        left, top, right, bottom = sheet.scale.box((x - 4, y - 4, 8, 8))
        sheet.draw.ellipse((left, top, right, bottom), outline="#22262B", width=3, fill="#F3E7BF")
        sheet.note(x - 1.4, y + 0.8, f"T{k + 1}")
    sheet.line(((0, 46), (100, 46)), colour="#5B7F95", width=8)
    sheet.note(2, 50, "sea")
    sheet.cross(0, 0, "0 m")
    sheet.cross(100, 0, "100 m")
    sheet.north((1345, 110))
    sheet.bar((1080, 810), 10)
    return sheet.image
