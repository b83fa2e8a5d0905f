"""How layers look where they lie bare: concrete, zinc, paint, glue and metal."""

import numpy as np

from tools.sample_pictures.texture import (
    Field,
    Mask,
    cells,
    inner_distance,
    moved,
    noise,
    painted,
    pasted,
    rough,
    shaded,
    softened,
)

SEAL = (150.0, 152.0, 144.0)
BODY = (112.0, 118.0, 114.0)
PRIMER = (168.0, 128.0, 62.0)
CONCRETE = (158.0, 152.0, 140.0)


def concrete(rng: np.random.Generator, shape: tuple[int, int], grain: float = 22) -> Field:
    """Return torn concrete: pale paste with sand and stone in it."""
    picture = shaded(painted(shape, CONCRETE), 7 * rough(rng, shape, 30))
    count = int(shape[0] * shape[1] / grain**2)
    stones = cells(rng, shape, count, waver=3)
    tint = rng.uniform(-34, 26, count)
    kept = rng.uniform(0, 1, count) < 0.36
    body = np.asarray(inner_distance_of(stones) > grain / 7)
    mask = softened(kept[stones] & body, 0.8)
    stone = painted(shape, (140, 130, 118)) + tint[stones][..., None]
    return shaded(
        pasted(picture, shaded(stone, 5 * noise(rng, shape, 4)), mask), 4 * noise(rng, shape, 2)
    )


def inner_distance_of(pieces: Field | np.ndarray) -> Field:
    """Return the distance of each pixel from the border of its piece."""
    edge = np.zeros(pieces.shape, dtype=bool)
    edge[:, 1:] |= pieces[:, 1:] != pieces[:, :-1]
    edge[1:, :] |= pieces[1:, :] != pieces[:-1, :]
    return inner_distance(~edge)


def seal_coat(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return the satin upper face of the seal coat."""
    return shaded(painted(shape, SEAL), 2.2 * rough(rng, shape, 60) + 1.2 * noise(rng, shape, 3))


def seal_back(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return the smooth back of the seal coat, a mirror of the face it lay on."""
    sheen = 16 * np.clip(noise(rng, shape, 160), 0, 2)
    return shaded(painted(shape, (164, 168, 158)), sheen + 1.5 * noise(rng, shape, 18))


def body_face(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return the glossy upper face of the body coat."""
    gloss = 26 * np.clip(noise(rng, shape, 140) - 0.4, 0, 2)
    return shaded(painted(shape, BODY), gloss + 1.4 * noise(rng, shape, 14))


def body_torn(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return a break within the body coat: matt and sandy."""
    return shaded(painted(shape, (124, 126, 120)), 6 * rough(rng, shape, 12))


def primer_face(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return amber primer."""
    return shaded(painted(shape, PRIMER), 6 * rough(rng, shape, 26))


def glue(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return torn glue: milky yellow with tear lines."""
    return shaded(painted(shape, (206, 196, 150)), 9 * rough(rng, shape, 16))


def glue_film(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return glue that let go of a face: smooth and shining."""
    return shaded(painted(shape, (214, 206, 168)), 14 * np.clip(noise(rng, shape, 90), 0, 2))


def metal(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return turned aluminium."""
    rows, columns = np.mgrid[0 : shape[0], 0 : shape[1]]
    radius = np.hypot(rows - shape[0] / 2, columns - shape[1] / 2)
    return shaded(
        painted(shape, (176, 178, 180)), 6 * np.sin(radius * 1.7) + 3 * noise(rng, shape, 30)
    )


def lifted(lower: Field, upper: Field, gone: Mask, lip: float = 9) -> Field:
    """Return `upper` lying on `lower`, gone over `gone`, with its edge curled up.

    The curl catches light along its edge and throws a shadow down and to the right.
    """
    edge = inner_distance(~gone)
    curl = np.exp(-edge / lip) * ~gone
    shadow = softened(moved(~gone, 6, 8), 5) * gone
    below = shaded(lower, -46 * shadow)
    above = shaded(upper, 38 * curl - 26 * np.exp(-((edge - 2.2 * lip) ** 2) / (lip * 4)))
    return pasted(below, above, softened(~gone, 0.8))


def zinc(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return hot-dip zinc with its spangle."""
    count = int(shape[0] * shape[1] / 46**2)
    tint = rng.uniform(-16, 16, count)
    pieces = cells(rng, shape, count, waver=9)
    return shaded(painted(shape, (166, 172, 176)), tint[pieces] + 3 * noise(rng, shape, 5))


def alkyd_gloss(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return dark green gloss paint."""
    sheen = 22 * np.clip(noise(rng, shape, 170) - 0.5, 0, 2)
    return shaded(painted(shape, (44, 74, 60)), sheen + 1.2 * noise(rng, shape, 9))


def alkyd_back(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return the back of the primer: pale red-brown, smooth."""
    return shaded(painted(shape, (156, 104, 84)), 3 * rough(rng, shape, 60))


def alkyd_torn(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return a break within the primer."""
    return shaded(painted(shape, (138, 88, 70)), 8 * rough(rng, shape, 12))


def finish(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return yellow polyurethane finish."""
    sheen = 12 * np.clip(noise(rng, shape, 200), 0, 2)
    return shaded(painted(shape, (214, 172, 44)), sheen + 1.5 * noise(rng, shape, 8))


def finish_back(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return the smooth back of the finish."""
    return shaded(painted(shape, (200, 164, 66)), 4 * noise(rng, shape, 50))


def epoxy_dull(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return weathered intermediate coat: dull grey with a crust of salt."""
    face = shaded(painted(shape, (136, 136, 132)), 5 * rough(rng, shape, 50))
    crust = softened(rough(rng, shape, 14) > 1.5, 1.2)
    return pasted(face, painted(shape, (222, 222, 216)), 0.7 * crust)


def epoxy_torn(rng: np.random.Generator, shape: tuple[int, int]) -> Field:
    """Return a break within the intermediate coat."""
    return shaded(painted(shape, (120, 122, 122)), 8 * rough(rng, shape, 10))
