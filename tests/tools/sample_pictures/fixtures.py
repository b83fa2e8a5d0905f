"""Break faces of pull-offs: the fixture on the left, the spot it came from on the right."""

from collections.abc import Callable, Mapping

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
_PIXELS_PER_MM = 2 * _RADIUS / 50

ON_FIXTURE: Mapping[str, Maker] = {
    "A": matter.concrete, "A/B": matter.primer_face, "B": matter.primer_face,
    "C": matter.body_torn, "C/D": matter.seal_back, "D": matter.body_torn,
    "-/Y": matter.glue_film, "Y": matter.glue, "Y/Z": matter.metal,
}  # fmt: skip
AT_SPOT: Mapping[str, Maker] = {
    "A": matter.concrete, "A/B": matter.concrete, "B": matter.primer_face,
    "C": matter.body_torn, "C/D": matter.body_face, "D": matter.body_torn,
    "-/Y": matter.seal_coat, "Y": matter.glue, "Y/Z": matter.glue,
}  # fmt: skip


def break_faces(rng: np.random.Generator, breaks: Breaks, *, on_floor: Maker) -> Image.Image:
    """Return both faces of a pull-off with the shares of `breaks` laid out on them."""
    view = pasted(_cloth(rng), on_floor(rng, _SHAPE), np.arange(SIZE[0])[None, :] > 610)
    shape = rough(rng, _SHAPE, 150, 3)
    view = _face(rng, view, breaks, (_FIXTURE, ON_FIXTURE), shape, raised=True)
    mirrored = np.roll(shape[:, ::-1], int(_FIXTURE[0] + _SPOT[0] - SIZE[0] + 1), axis=1)
    view = _face(rng, view, breaks, (_SPOT, AT_SPOT), mirrored, raised=False)
    image = image_of(view)
    draw = ImageDraw.Draw(image)
    for x, said in ((240, "fixture"), (730, "where it stood")):
        draw.text(
            (x, 752),
            said,
            font=font(22, bold=True),
            fill=(247, 246, 240) if x > 600 else (30, 30, 30),
        )
    scale_bar(draw, (SIZE[0] - 300, 40), int(25 * _PIXELS_PER_MM), "25 mm")
    return image


def _cloth(rng: np.random.Generator) -> Field:
    return shaded(painted(_SHAPE, (196, 194, 186)), 2 * noise(rng, _SHAPE, 3))


def _face(
    rng: np.random.Generator,
    view: Field,
    breaks: Breaks,
    what: tuple[tuple[float, float], Mapping[str, Maker]],
    shape: Field,
    *,
    raised: bool,
) -> Field:
    centre, makers = what
    face = disc(_SHAPE, centre, _RADIUS)
    if raised:
        view = shaded(view, -60 * softened(moved(face, 16, 18), 12))
        view = pasted(view, matter.metal(rng, _SHAPE), disc(_SHAPE, centre, _RADIUS + 12))
    else:
        view = pasted(view, painted(_SHAPE, (52, 52, 50)), disc(_SHAPE, centre, _RADIUS + 14))
    shares = [(str(share.plane), share.percent or 0.0) for share in breaks.shares]
    for (plane, _), mask in zip(
        shares, share_masks(shape, [part for _, part in shares], face), strict=True
    ):
        edge = np.exp(-inner_distance(mask) / 4) * mask
        view = pasted(view, shaded(makers[plane](rng, _SHAPE), -24 * edge), softened(mask, 0.9))
    return view
