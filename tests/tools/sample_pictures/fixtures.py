"""Break faces of pull-offs: the fixture on the left, the spot it came from on the right."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from tools.sample_pictures import matter
from tools.sample_pictures.canvas import SIZE, font, image_of, scale_bar
from tools.sample_pictures.texture import (
    Field,
    disc,
    inner_distance,
    moved,
    noise,
    painted,
    pasted,
    rough,
    shaded,
    share_masks,
    softened,
)
from workbench.records import Breaks

Maker = Callable[[np.random.Generator, tuple[int, int]], Field]
_SHAPE = (SIZE[1], SIZE[0])
_RADIUS = 235
_FIXTURE, _SPOT = (330.0, 470.0), (860.0, 470.0)

_GLUE: Mapping[str, Maker] = {"-/Y": matter.glue_film, "Y": matter.glue, "Y/Z": matter.metal}


@dataclass(frozen=True, slots=True)
class Stack:
    """How a layer stack looks where it breaks.

    Attributes:
        on_fixture: What is seen on the fixture, by plane.
        at_spot: What is seen where the fixture stood, by plane.
        around: The face round the spot.
        fixture_mm: Diameter of the fixture.
        cut: Whether the film was cut round the fixture.
    """

    on_fixture: Mapping[str, Maker]
    at_spot: Mapping[str, Maker]
    around: Maker
    fixture_mm: int
    cut: bool


FLOOR = Stack(
    on_fixture={
        "A": matter.concrete, "A/B": matter.primer_face, "B": matter.primer_face,
        "C": matter.body_torn, "C/D": matter.seal_back, "D": matter.body_torn, **_GLUE,
    },
    at_spot={
        "A": matter.concrete, "A/B": matter.concrete, "B": matter.primer_face,
        "C": matter.body_torn, "C/D": matter.body_face, "D": matter.body_torn, **_GLUE,
        "-/Y": matter.seal_coat, "Y/Z": matter.glue,
    },
    around=matter.seal_coat, fixture_mm=50, cut=True,
)  # fmt: skip
BALUSTER = Stack(
    on_fixture={"A/B": matter.alkyd_back, "B": matter.alkyd_torn, **_GLUE},
    at_spot={"A/B": matter.zinc, "B": matter.alkyd_torn, **_GLUE, "Y/Z": matter.glue},
    around=matter.alkyd_gloss, fixture_mm=20, cut=False,
)  # fmt: skip
SHELL = Stack(
    on_fixture={"C": matter.epoxy_torn, "C/D": matter.finish_back, "D": matter.finish, **_GLUE},
    at_spot={
        "C": matter.epoxy_torn, "C/D": matter.epoxy_dull, "D": matter.finish, **_GLUE,
        "Y/Z": matter.glue,
    },
    around=matter.finish, fixture_mm=20, cut=False,
)  # fmt: skip


def break_faces(rng: np.random.Generator, stack: Stack, breaks: Breaks) -> Image.Image:
    """Return both faces of a pull-off with the shares of `breaks` laid out on them."""
    view = pasted(_cloth(rng), stack.around(rng, _SHAPE), np.arange(SIZE[0])[None, :] > 610)
    shape = rough(rng, _SHAPE, 150, 3)
    view = shaded(view, -60 * softened(moved(disc(_SHAPE, _FIXTURE, _RADIUS), 16, 18), 12))
    view = pasted(view, matter.metal(rng, _SHAPE), disc(_SHAPE, _FIXTURE, _RADIUS + 12))
    view = _face(rng, view, breaks, (_FIXTURE, stack.on_fixture), shape)
    mirrored = np.roll(shape[:, ::-1], int(_FIXTURE[0] + _SPOT[0] - SIZE[0] + 1), axis=1)
    if stack.cut:
        view = pasted(view, painted(_SHAPE, (52, 52, 50)), disc(_SHAPE, _SPOT, _RADIUS + 14))
    view = _face(rng, view, breaks, (_SPOT, stack.at_spot), mirrored)
    image = image_of(view)
    draw = ImageDraw.Draw(image)
    for x, said in ((240, "fixture"), (730, "where it stood")):
        draw.rectangle((x - 12, 746, x + 14 * len(said) + 8, 784), fill=(247, 246, 240))
        draw.text((x, 752), said, font=font(22, bold=True), fill=(30, 30, 30))
    scale_bar(draw, (SIZE[0] - 300, 40), _RADIUS, f"{stack.fixture_mm // 2} mm")
    return image


def _cloth(rng: np.random.Generator) -> Field:
    return shaded(painted(_SHAPE, (196, 194, 186)), 2 * noise(rng, _SHAPE, 3))


def _face(
    rng: np.random.Generator,
    view: Field,
    breaks: Breaks,
    what: tuple[tuple[float, float], Mapping[str, Maker]],
    shape: Field,
) -> Field:
    centre, makers = what
    face = disc(_SHAPE, centre, _RADIUS)
    shares = [(str(share.plane), share.percent or 0.0) for share in breaks.shares]
    for (plane, _), mask in zip(
        shares, share_masks(shape, [part for _, part in shares], face), strict=True
    ):
        edge = np.exp(-inner_distance(mask) / 4) * mask
        view = pasted(view, shaded(makers[plane](rng, _SHAPE), -24 * edge), softened(mask, 0.9))
    return view
