"""Pictures and plan of the bottling hall floor."""

from collections.abc import Callable, Mapping
from functools import partial

import numpy as np
from PIL import Image

from tools.sample_pictures import floors, specimens
from tools.sample_pictures.fixtures import FLOOR, break_faces
from tools.sample_pictures.floors import Hall
from tools.sample_pictures.plans import Plan, Scale
from workbench.records import Breaks

Drawer = Callable[[np.random.Generator], Image.Image]


def _view(percent: float, hall: Hall, rng: np.random.Generator, *, sheets: int = 9) -> Image.Image:
    floor = floors.lifting(rng, percent, sheets) if percent else floors.sound(rng)
    return floors.along(floor, hall)


def _break(text: str, rng: np.random.Generator) -> Image.Image:
    return break_faces(rng, FLOOR, Breaks.read(text))


def _guard_strip(rng: np.random.Generator) -> Image.Image:
    return floors.down(floors.lifting(rng, 30, 3), "0.5 m")


def _beside(
    words: tuple[str, str],
    right: Callable[[np.random.Generator], np.ndarray],
    rng: np.random.Generator,
) -> Image.Image:
    return floors.down(floors.joined(rng, floors.lifting(rng, 68, 4), right(rng), words), "0.5 m")


def _abraded_strip(rng: np.random.Generator) -> np.ndarray:
    return np.asarray(floors.sound(rng) + 3)


WASHER = Hall(machine=True, drain=True)
DRAWERS: Mapping[str, Drawer] = {
    "PH-01": partial(_view, 40, Hall(machine=True, lane=True)),
    "PH-02": partial(_view, 27, WASHER),
    "PH-03": partial(_view, 46, Hall(machine=True), sheets=16),
    "PH-04": partial(_view, 33, Hall(wall=(198, 204, 206), machine=True)),
    "PH-05": partial(_view, 0, WASHER),
    "PH-06": partial(_view, 0, Hall(door=True)),
    "PH-07": partial(_view, 0, Hall(lane=True)),
    "PH-08": _guard_strip,
    "PH-09": partial(_beside, ("bay 2", "trench infill C1"), floors.sound),
    "PH-10": partial(_beside, ("bay 6", "lap strip C2"), _abraded_strip),
    "PH-11": partial(_break, "C/D 90; D 10"),
    "PH-12": partial(_break, "C/D 95; D 5"),
    "PH-13": partial(_break, "A 100"),
    "PH-14": partial(_break, "A 85; Y 15"),
    "PH-15": partial(_break, "-/Y 80; Y 20"),
    "PH-16": partial(_break, "C/D 100"),
    "PH-17": partial(specimens.chips, words=("S-01 outer face", "S-01 back")),
    "PH-18": partial(specimens.chips, words=("S-02 outer face", "S-02 back")),
    "PH-19": partial(specimens.section, layers_um=(161, 1505, 84), open_gap=True),
    "PH-20": partial(specimens.section, layers_um=(155, 1490, 82), open_gap=False),
    "PH-21": partial(specimens.lens_face, abraded=False),
    "PH-22": partial(specimens.lens_face, abraded=True),
    "PH-23": partial(
        specimens.patches, held=(("as found", False), ("washed", False), ("abraded", True))
    ),
    "PH-24": partial(
        specimens.sealed,
        samples=(
            ("S-01", "film", "40211"), ("S-02", "film", "40212"), ("S-03", "film", "40213"),
            ("S-04", "film", "40214"), ("S-05", "film", "40215"), ("S-06", "core", "40216"),
            ("S-07", "core", "40217"), ("S-08", "core", "40218"), ("S-10", "core", "40220"),
            ("S-11", "blank", "40221"), ("S-12", "film", "40222"),
        ),
    ),
}  # fmt: skip
"""What draws each photograph, by its ref."""


def plan() -> Image.Image:
    """Return the plan of the hall: 60 m by 40 m, 20 pixels to the metre."""
    sheet = Plan((1400, 1000), Scale(100, 900, 20), "Floor plan A-110, bottling hall")
    bays = {1: (0, 0), 2: (20, 0), 3: (40, 0), 4: (0, 20), 5: (20, 20), 6: (40, 20)}
    for number, (x, y) in bays.items():
        sheet.room((x, y, 20, 20), name=f"bay {number}", wall=2)
    sheet.room((0, 0, 60, 40), wall=6)
    sheet.plant((6, 2.4, 48, 1.4), "wash line")
    sheet.plant((57.2, 4, 1.4, 26), "wash line return")
    sheet.plant((22, 1.2, 15, 1), "guard, strip W2", fill="#F0E6D2")
    sheet.plant((24, 12, 8, 1.5), "trench infill C1", fill="#EFEFEF")
    sheet.plant((40, 20, 0.6, 20), "", fill="#E4E4E4")
    sheet.note(41, 36, "abraded lap strip C2")
    sheet.line(((4, 5), (55, 5), (55, 32)), colour="#5B7F95", width=5)
    sheet.note(5, 6.6, "drain")
    sheet.line(((0, 26), (0, 31)), colour="#FFFFFF", width=8)
    sheet.note(0.6, 29, "roller door")
    sheet.cross(0, 0, "0 m")
    sheet.cross(60, 0, "60 m")
    sheet.north((1345, 110))
    sheet.bar((1080, 950), 10)
    return sheet.image
