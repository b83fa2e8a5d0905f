"""Views of the floor: looked along from standing height, or straight down."""

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from tools.sample_pictures.canvas import SIZE, font, image_of, scale_bar
from tools.sample_pictures.matter import body_face, lifted, seal_back, seal_coat
from tools.sample_pictures.texture import (
    Field,
    Mask,
    cells,
    moved,
    noise,
    pasted,
    shaded,
    softened,
)

_TOP = 330
_SHAPE = (1000, 1000)


@dataclass(frozen=True, slots=True)
class Hall:
    """What stands round the floor in a view.

    Attributes:
        wall: Colour of the far wall.
        machine: Whether the bottle washer stands at the far side.
        drain: Whether a channel drain crosses the floor.
        door: Whether a roller door is in the wall.
        lane: Whether a marked traffic lane crosses the floor.
    """

    wall: tuple[int, int, int] = (206, 208, 202)
    machine: bool = False
    drain: bool = False
    door: bool = False
    lane: bool = False


def gone_mask(
    rng: np.random.Generator, shape: tuple[int, int], percent: float, *, pieces: int = 260
) -> Mask:
    """Return where the upper coat has come off: angular pieces that hang together."""
    parts = cells(rng, shape, pieces)
    pull = noise(rng, shape, 260)
    height = np.bincount(parts.ravel(), pull.ravel(), pieces) / np.maximum(
        np.bincount(parts.ravel(), minlength=pieces), 1
    )
    return np.asarray(height[parts] > np.quantile(height[parts], 1 - percent / 100))


def loose_sheets(rng: np.random.Generator, floor: Field, gone: Mask, count: int) -> Field:
    """Return the floor with curled pieces of the upper coat lying where it is gone."""
    places = np.argwhere(gone)
    height, width = gone.shape
    back = seal_back(rng, gone.shape)
    for row, column in rng.choice(places, count):
        size = rng.uniform(28, 70)
        angles = np.sort(rng.uniform(0, 2 * np.pi, 7))
        corners = [
            (column + size * rng.uniform(0.6, 1.1) * np.cos(a), row + 0.7 * size * np.sin(a))
            for a in angles
        ]
        sheet = Image.new("L", (width, height))
        ImageDraw.Draw(sheet).polygon(corners, fill=255)
        mask = np.asarray(sheet, dtype=np.float64) / 255
        floor = shaded(floor, -52 * softened(moved(mask, 9, 11), 6))
        across = (np.arange(width) - column) / size
        curl = 30 * np.cos(2.6 * across)[None, :] * np.ones((height, 1))
        floor = pasted(floor, shaded(back, curl - 8), softened(mask, 1))
    return floor


def lifting(rng: np.random.Generator, percent: float, sheets: int = 9) -> Field:
    """Return a floor seen from above whose seal coat is off over `percent` of it."""
    gone = gone_mask(rng, _SHAPE, percent)
    floor = lifted(body_face(rng, _SHAPE), seal_coat(rng, _SHAPE), gone)
    return loose_sheets(rng, floor, gone, sheets)


def sound(rng: np.random.Generator) -> Field:
    """Return a floor seen from above whose seal coat holds."""
    return shaded(seal_coat(rng, _SHAPE), 4 * noise(rng, _SHAPE, 200))


def along(floor: Field, hall: Hall) -> Image.Image:
    """Return the floor as seen by someone standing on it, with the hall behind."""
    marked = image_of(floor)
    draw = ImageDraw.Draw(marked)
    if hall.lane:
        for x in (330, 660):
            draw.rectangle((x, 0, x + 14, 1000), fill=(222, 186, 62))
    if hall.drain:
        draw.rectangle((0, 380, 1000, 424), fill=(86, 90, 92))
        for x in range(0, 1000, 22):
            draw.rectangle((x, 388, x + 9, 416), fill=(34, 36, 38))
    view = Image.new("RGB", SIZE, hall.wall)
    ImageDraw.Draw(view).rectangle((0, _TOP, *SIZE), fill=(149, 151, 143))
    corners = ((300, _TOP), (900, _TOP), (1900, SIZE[1]), (-700, SIZE[1]))
    view.paste(_seen(marked, corners), (0, 0), _seen(Image.new("L", _SHAPE, 255), corners))
    _light(view)
    _furnish(ImageDraw.Draw(view), hall)
    return view


def _seen(image: Image.Image, corners: tuple[tuple[int, int], ...]) -> Image.Image:
    edge = image.size[0]
    square = ((0, 0), (edge, 0), (edge, edge), (0, edge))
    rows, known = [], []
    for (x, y), (u, v) in zip(corners, square, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        known += [u, v]
    terms = np.linalg.solve(np.array(rows, float), np.array(known, float))
    how = Image.Transform.PERSPECTIVE
    return image.transform(SIZE, how, tuple(terms), Image.Resampling.BICUBIC)


def _light(view: Image.Image) -> None:
    field = np.asarray(view, dtype=np.float64)
    rows = np.arange(SIZE[1])[:, None, None]
    fall = np.where(rows > _TOP, -26 + 34 * (rows - _TOP) / (SIZE[1] - _TOP), 0)
    view.paste(image_of(field + fall))


def _furnish(draw: ImageDraw.ImageDraw, hall: Hall) -> None:
    draw.rectangle((0, _TOP - 34, SIZE[0], _TOP), fill=(124, 128, 128))
    for x in range(60, SIZE[0], 270):
        draw.rectangle((x, 0, x + 34, _TOP), fill=(176, 178, 174))
    if hall.door:
        draw.rectangle((690, 60, 1050, _TOP), fill=(150, 158, 166), outline=(90, 94, 98), width=6)
        for y in range(80, _TOP, 20):
            draw.line((696, y, 1044, y), fill=(124, 132, 140), width=3)
    if hall.machine:
        draw.rectangle(
            (420, 120, 1170, _TOP + 14), fill=(190, 196, 200), outline=(80, 86, 90), width=4
        )
        draw.rectangle((420, 250, 1170, 276), fill=(92, 116, 132))
        for x in range(460, 1110, 76):
            draw.rectangle(
                (x, 150, x + 50, 226), fill=(158, 170, 178), outline=(90, 96, 100), width=3
            )
            draw.rectangle((x + 16, _TOP - 6, x + 30, _TOP + 22), fill=(70, 74, 78))


def down(floor: Field, words: str, pixels: int = 400) -> Image.Image:
    """Return the floor seen straight down, with a scale bar."""
    view = image_of(floor).crop((0, 120, 1000, 870)).resize(SIZE, Image.Resampling.LANCZOS)
    scale_bar(ImageDraw.Draw(view), (SIZE[0] - pixels - 60, SIZE[1] - 106), pixels, words)
    return view


def joined(rng: np.random.Generator, left: Field, right: Field, words: tuple[str, str]) -> Field:
    """Return two floors that meet at a straight joint, each named."""
    joint = 430 + 1.2 * noise(rng, (_SHAPE[0], 1), 30)
    columns = np.arange(_SHAPE[1])[None, :]
    floor = pasted(left, right, softened(columns > joint, 1))
    floor = shaded(floor, -30 * np.exp(-((columns - joint) ** 2) / 6))
    image = image_of(floor)
    draw = ImageDraw.Draw(image)
    for x, said in ((40, words[0]), (620, words[1])):
        draw.rectangle((x - 8, 262, x + 20 + 11 * len(said), 302), fill=(247, 246, 240))
        draw.text((x, 270), said, font=font(20), fill=(25, 25, 25))
    return np.asarray(image, dtype=np.float64)
