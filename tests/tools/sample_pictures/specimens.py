"""What lies on the bench: chips, sections, faces under a lens, trial patches, sealed samples."""

from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np
from PIL import Image, ImageDraw

from tools.sample_pictures import matter
from tools.sample_pictures.canvas import SIZE, font, image_of, scale_bar
from tools.sample_pictures.texture import (
    Field,
    Mask,
    disc,
    inner_distance,
    moved,
    noise,
    painted,
    pasted,
    shaded,
    softened,
)

_SHAPE = (SIZE[1], SIZE[0])
Maker = Callable[[np.random.Generator, tuple[int, int]], Field]
_INK, _PAPER = (25, 25, 25), (247, 246, 240)


def bench(rng: np.random.Generator) -> Field:
    """Return the bare bench."""
    return shaded(
        painted(_SHAPE, (72, 80, 84)), 2 * noise(rng, _SHAPE, 4) + 5 * noise(rng, _SHAPE, 300)
    )


def laid(view: Field, thing: Field, mask: Mask) -> Field:
    """Return the bench with a thing lying on it, edge lit and shadow cast."""
    lit = 26 * np.exp(-inner_distance(mask) / 5) * mask
    view = shaded(view, -44 * softened(moved(mask, 10, 12), 7))
    return pasted(view, shaded(thing, lit), softened(mask, 0.8))


def chips(
    rng: np.random.Generator,
    words: tuple[str, str],
    faces: tuple[Maker, Maker] = (matter.seal_coat, matter.seal_back),
) -> Image.Image:
    """Return a piece of film seen from both sides, outer face first, named by `words`."""
    view = bench(rng)
    outline = _torn(rng, (330, 480), 230)
    view = laid(view, faces[0](rng, _SHAPE), outline)
    turned = np.roll(outline[:, ::-1], 2 * 600 - SIZE[0] + 1, axis=1)
    view = laid(view, faces[1](rng, _SHAPE), turned)
    image = image_of(view)
    draw = ImageDraw.Draw(image)
    for x, said in zip((200, 760), words, strict=True):
        draw.text((x, 762), said, font=font(24), fill=_PAPER)
    scale_bar(draw, (SIZE[0] - 330, 40), 260, "50 mm")
    return image


def _torn(rng: np.random.Generator, centre: tuple[int, int], radius: float) -> Mask:
    angles = np.sort(rng.uniform(0, 2 * np.pi, 11))
    reach = radius * rng.uniform(0.72, 1.12, 11)
    image = Image.new("L", SIZE)
    corners = [
        (centre[0] + r * np.cos(a), centre[1] + r * np.sin(a))
        for a, r in zip(angles, reach, strict=True)
    ]
    ImageDraw.Draw(image).polygon(corners, fill=255)
    return np.asarray(image) > 127


def section(rng: np.random.Generator, layers_um: Sequence[float], *, open_gap: bool) -> Image.Image:
    """Return a polished section: primer, body and seal coat of the given thickness on concrete."""
    per_um = 0.34
    wave = 4 * noise(rng, (1, SIZE[0]), 220)[0]
    base = 770 + 9 * noise(rng, (1, SIZE[0]), 60)[0]
    tops = [base]
    for k in range(len(layers_um)):
        level = base.mean() - sum(layers_um[: k + 1]) * per_um
        tops.append(level + (base - base.mean()) * (0.8, 0.15, 0.1)[k] + 0.4 * wave)
    rows = np.arange(_SHAPE[0])[:, None]
    view = shaded(painted(_SHAPE, (44, 46, 52)), 2 * noise(rng, _SHAPE, 3))
    for maker, lower, upper in zip(_LAYERS, [np.full(SIZE[0], 1e4), *tops[:-1]], tops, strict=True):
        inside = (rows < lower[None, :]) & (rows >= upper[None, :])
        view = pasted(view, maker(rng, _SHAPE), softened(inside, 0.7))
    view = _voids(rng, view, tops[2], tops[1])
    if open_gap:
        gap = np.abs(rows - tops[2][None, :]) < 4.5 + 2 * noise(rng, (1, SIZE[0]), 120)
        view = pasted(view, painted(_SHAPE, (16, 16, 18)), softened(gap, 0.7))
    image = image_of(view)
    draw = ImageDraw.Draw(image)
    middles = [(a[1100] + b[1100]) / 2 for a, b in pairwise(tops)]
    for y, said in zip(
        (822, *middles), ("A  concrete", "B  primer", "C  body coat", "D  seal coat"), strict=True
    ):
        draw.rectangle((1010, y - 15, 1190, y + 15), fill=_PAPER)
        draw.text((1020, y - 12), said, font=font(19), fill=_INK)
    scale_bar(draw, (760, 40), int(500 * per_um), "500 µm")
    return image


def _polished_body(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    return shaded(
        painted(shape, (126, 132, 128)), 9 * noise(rng, shape, 3) + 3 * noise(rng, shape, 30)
    )


def _polished_seal(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    return shaded(painted(shape, (178, 182, 172)), 3 * noise(rng, shape, 3))


_LAYERS = (matter.concrete, matter.primer_face, _polished_body, _polished_seal)


def _voids(rng: np.random.Generator, view: Field, top: Field, bottom: Field) -> Field:
    for _ in range(7):
        x = int(rng.uniform(20, SIZE[0] - 20))
        y = rng.uniform(top[x] + 30, bottom[x] - 30)
        view = pasted(
            view,
            painted(_SHAPE, (58, 62, 62)),
            softened(disc(_SHAPE, (x, y), rng.uniform(3, 9)), 0.8),
        )
    return view


def lens_face(rng: np.random.Generator, *, abraded: bool) -> Image.Image:
    """Return the face of a body coat under a lens, glossy or evenly abraded."""
    face = shaded(painted(_SHAPE, matter.BODY), 1.5 * noise(rng, _SHAPE, 60) + _lamp(rng))
    if abraded:
        face = shaded(painted(_SHAPE, (128, 133, 129)), 4 * noise(rng, _SHAPE, 3))
        face = shaded(face, _scratches(rng, 900))
    seen = disc(_SHAPE, (SIZE[0] / 2, SIZE[1] / 2 - 10), 410)
    image = image_of(pasted(painted(_SHAPE, (12, 12, 14)), face, softened(seen, 2)))
    scale_bar(ImageDraw.Draw(image), (SIZE[0] - 280, 60), 200, "2 mm")
    return image


def _lamp(rng: np.random.Generator) -> Field:
    """Return the ring lamp of the microscope as a glossy face mirrors it."""
    rows, columns = np.mgrid[0 : _SHAPE[0], 0 : _SHAPE[1]].astype(np.float64)
    radius = np.hypot(
        rows - 400 + 7 * noise(rng, _SHAPE, 50), columns - 560 + 7 * noise(rng, _SHAPE, 50)
    )
    turn = np.arctan2(rows - 400, columns - 560)
    return np.asarray(
        105 * np.exp(-(((radius - 190) / 16) ** 4)) * (np.cos(4 * turn + 0.6) > -0.55)
    )


def _scratches(rng: np.random.Generator, count: int) -> Field:
    image = Image.new("L", SIZE, 128)
    draw = ImageDraw.Draw(image)
    for _ in range(count):
        x, y = rng.uniform(-200, SIZE[0]), rng.uniform(-200, SIZE[1])
        radius = rng.uniform(260, 700)
        start = rng.uniform(0, 360)
        shade = int(rng.choice((70, 90, 176, 196)))
        box = (x - radius, y - radius, x + radius, y + radius)
        draw.arc(box, start, start + rng.uniform(8, 30), fill=shade, width=int(rng.integers(1, 4)))
    return (np.asarray(image, dtype=np.float64) - 128) * 0.55


def patches(rng: np.random.Generator, held: Sequence[tuple[str, bool]]) -> Image.Image:
    """Return trial patches side by side, each pulled; `held` says name and whether it held."""
    view = matter.body_face(rng, _SHAPE)
    width = SIZE[0] // len(held)
    for k, (_, holds) in enumerate(held):
        left = k * width + 40
        square = np.zeros(_SHAPE, dtype=bool)
        square[230:560, left : left + width - 80] = True
        view = laid(view, matter.seal_coat(rng, _SHAPE), square)
        spot, fixture = (left + (width - 80) / 2, 395.0), (left + (width - 80) / 2, 690.0)
        below, above = (matter.concrete,) * 2 if holds else (matter.body_face, matter.seal_back)
        view = pasted(view, painted(_SHAPE, (50, 50, 48)), disc(_SHAPE, spot, 88))
        view = pasted(view, below(rng, _SHAPE), softened(disc(_SHAPE, spot, 80), 0.8))
        view = laid(view, matter.metal(rng, _SHAPE), disc(_SHAPE, fixture, 86))
        view = pasted(view, above(rng, _SHAPE), softened(disc(_SHAPE, fixture, 80), 0.8))
    image = image_of(view)
    draw = ImageDraw.Draw(image)
    for k, (name, _) in enumerate(held):
        x = k * width + 60
        draw.rectangle((x, 180, x + 150, 218), fill=_PAPER)
        draw.text((x + 12, 186), name, font=font(22), fill=_INK)
    scale_bar(draw, (SIZE[0] - 260, 40), 160, "50 mm")
    return image


def sealed(rng: np.random.Generator, samples: Sequence[tuple[str, str, str]]) -> Image.Image:
    """Return sealed samples on the bench; each is (ref, kind, number of the seal)."""
    view = bench(rng)
    places = [(60 + 285 * (k % 4), 150 + 235 * (k // 4)) for k in range(len(samples))]
    for (x, y), (_, kind, _) in zip(places, samples, strict=True):
        bag = np.zeros(_SHAPE, dtype=bool)
        bag[y : y + 200, x : x + 250] = True
        view = laid(view, 0.55 * view + 0.45 * painted(_SHAPE, (214, 220, 222)), bag)
        inside = np.zeros(_SHAPE, dtype=bool)
        wide, high = (60, 150) if kind == "core" else (150, 90)
        inside[y + 22 : y + 22 + min(high, 110), x + 40 : x + 40 + wide] = True
        look = matter.concrete if kind == "core" else matter.metal
        view = laid(view, look(rng, _SHAPE), inside)
    image = image_of(view)
    draw = ImageDraw.Draw(image)
    for (x, y), (ref, kind, number) in zip(places, samples, strict=True):
        draw.rectangle((x, y, x + 250, y + 14), fill=(168, 44, 40))
        draw.text((x + 8, y - 2), number, font=font(13, bold=True), fill=_PAPER)
        draw.rectangle((x + 60, y + 136, x + 244, y + 192), fill=_PAPER, outline=_INK)
        draw.text((x + 70, y + 138), ref, font=font(21, bold=True), fill=_INK)
        draw.text((x + 70, y + 166), kind.replace("_", " "), font=font(17), fill=_INK)
    return image
