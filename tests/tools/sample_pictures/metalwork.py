"""Views of painted steel: balusters of a balcony, brackets, and shells standing on a quay."""

from collections.abc import Callable

import numpy as np
from PIL import Image, ImageDraw

from tools.sample_pictures import matter
from tools.sample_pictures.canvas import SIZE, image_of, scale_bar
from tools.sample_pictures.floors import gone_mask
from tools.sample_pictures.texture import (
    Field,
    Mask,
    disc,
    moved,
    noise,
    painted,
    pasted,
    shaded,
    softened,
)

_SHAPE = (SIZE[1], SIZE[0])
Maker = Callable[[np.random.Generator, tuple[int, int]], Field]


def _none(shape: tuple[int, int]) -> Mask:
    return np.zeros(shape, dtype=bool)


def _round(width: int) -> Field:
    """Return the shading across a round bar."""
    across = np.linspace(-1, 1, width)
    return np.asarray(46 * np.exp(-((across + 0.35) ** 2) / 0.09) - 52 * across**4)


def _wall(rng: np.random.Generator) -> Field:
    """Return a rendered wall with the shade of a balcony on it."""
    rows = np.arange(_SHAPE[0])[:, None] * np.ones((1, _SHAPE[1]))
    return shaded(painted(_SHAPE, (196, 190, 178)), 3 * noise(rng, _SHAPE, 4) - 30 * (rows > 520))


def balcony(rng: np.random.Generator, percents: list[float]) -> Image.Image:
    """Return a balcony rail; each baluster has lost its paint over the given share."""
    view = _wall(rng)
    step = (SIZE[0] - 120) // len(percents)
    bare, paint = matter.zinc(rng, _SHAPE), matter.alkyd_gloss(rng, _SHAPE)
    for k, percent in enumerate(percents):
        left, width = 60 + k * step, 44
        bar = np.s_[170:790, left : left + width]
        gone = gone_mask(rng, (620, width), percent, pieces=70) if percent else _none((620, width))
        shadow = _none(_SHAPE)
        shadow[bar] = True
        view = shaded(view, -34 * softened(moved(shadow, 4, 22), 8) * ~shadow)
        view[bar] = shaded(
            matter.lifted(bare[bar], paint[bar], gone, 3), _round(width) * np.ones((620, 1))
        )
    for top in (130, 790):
        rail = np.s_[top : top + 46, 20 : SIZE[0] - 20]
        view[rail] = shaded(paint[rail], _round(46)[:, None] * np.ones((1, SIZE[0] - 40)))
    return image_of(view)


def baluster(rng: np.random.Generator, percent: float, *, dust: bool = False) -> Image.Image:
    """Return one baluster close by, its paint gone over the given share."""
    bare = matter.zinc(rng, _SHAPE)
    if dust:
        bare = pasted(
            bare, painted(_SHAPE, (228, 230, 228)), 0.35 * softened(noise(rng, _SHAPE, 40) > 1, 8)
        )
    gone = gone_mask(rng, _SHAPE, percent, pieces=90) if percent else _none(_SHAPE)
    bar = matter.lifted(bare, matter.alkyd_gloss(rng, _SHAPE), gone, 7)
    left, width = 330, 540
    view = _wall(rng)
    mask = _none(_SHAPE)
    mask[:, left : left + width] = True
    view = shaded(view, -40 * softened(moved(mask, 0, 60), 26) * ~mask)
    view[:, left : left + width] = shaded(
        bar[:, left : left + width], _round(width) * np.ones((SIZE[1], 1))
    )
    image = image_of(view)
    scale_bar(ImageDraw.Draw(image), (SIZE[0] - 290, 60), 216, "20 mm")
    return image


def bracket(rng: np.random.Generator) -> Image.Image:
    """Return a painted steel bracket with its four bolts; nothing is off."""
    view = _wall(rng)
    plate = _none(_SHAPE)
    plate[190:760, 380:900] = True
    view = shaded(view, -40 * softened(moved(plate, 16, 20), 12))
    view = pasted(view, matter.alkyd_gloss(rng, _SHAPE), softened(plate, 1))
    for x, y in ((450, 260), (830, 260), (450, 690), (830, 690)):
        bolt = disc(_SHAPE, (x, y), 34)
        view = shaded(view, -34 * softened(moved(bolt, 6, 8), 5))
        view = pasted(
            view, shaded(matter.alkyd_gloss(rng, _SHAPE), 14 * np.ones(_SHAPE)), softened(bolt, 1)
        )
    image = image_of(view)
    scale_bar(ImageDraw.Draw(image), (SIZE[0] - 290, 60), 220, "50 mm")
    return image


def shells(rng: np.random.Generator, percents: list[float]) -> Image.Image:
    """Return shells in a row on a quay; each has lost its finish over the given share."""
    rows = np.arange(_SHAPE[0])[:, None] * np.ones((1, _SHAPE[1]))
    sky = shaded(painted(_SHAPE, (198, 208, 216)), 10 * noise(rng, _SHAPE, 200) - 0.03 * rows)
    sea = shaded(painted(_SHAPE, (104, 122, 130)), 5 * noise(rng, _SHAPE, 9))
    quay = shaded(matter.concrete(rng, _SHAPE, 12), -16 * np.ones(_SHAPE))
    view = pasted(pasted(sky, sea, rows > 430), quay, rows > 560)
    step = (SIZE[0] - 80) // len(percents)
    for k, percent in enumerate(percents):
        left, width, top, bottom = 60 + k * step, step - 60, 150, 720
        box = np.s_[top:bottom, left : left + width]
        _shell(rng, view, box, percent)
    return image_of(view)


def _shell(rng: np.random.Generator, view: Field, box: tuple[slice, slice], percent: float) -> None:
    height, width = (part.stop - part.start for part in box)
    shape = (height, width)
    gone = gone_mask(rng, shape, percent, pieces=80) if percent else _none(shape)
    face = matter.lifted(matter.epoxy_dull(rng, shape), matter.finish(rng, shape), gone, 4)
    view[box] = shaded(face, 1.3 * _round(width) * np.ones((height, 1)))


def shell(rng: np.random.Generator, percent: float) -> Image.Image:
    """Return the face of a shell close by, its finish gone over the given share."""
    gone = gone_mask(rng, _SHAPE, percent, pieces=120) if percent else _none(_SHAPE)
    face = matter.lifted(matter.epoxy_dull(rng, _SHAPE), matter.finish(rng, _SHAPE), gone, 7)
    across = np.linspace(-1, 1, SIZE[0])[None, :] * np.ones((SIZE[1], 1))
    image = image_of(shaded(face, -46 * across**2 + 8))
    scale_bar(ImageDraw.Draw(image), (SIZE[0] - 330, 60), 250, "0.25 m")
    return image
