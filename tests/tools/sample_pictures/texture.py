"""Fields of numbers that look like matter: noise, cells, grains and scratches."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy import ndimage
from scipy.spatial import KDTree

Field: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
Colour: TypeAlias = tuple[float, float, float]


def noise(rng: np.random.Generator, shape: tuple[int, int], cell: float) -> Field:
    """Return smooth noise of mean 0 and spread 1, with features about `cell` pixels wide."""
    height, width = shape
    small = rng.standard_normal((max(2, int(height / cell) + 2), max(2, int(width / cell) + 2)))
    image = Image.fromarray(small.astype(np.float32)).resize(
        (width, height), Image.Resampling.BICUBIC
    )
    field = np.asarray(image, dtype=np.float64)
    return np.asarray((field - field.mean()) / field.std())


def rough(rng: np.random.Generator, shape: tuple[int, int], cell: float, octaves: int = 4) -> Field:
    """Return noise with finer and finer detail, spread about 1."""
    layers = [noise(rng, shape, max(1.5, cell / 2**k)) / 1.7**k for k in range(octaves)]
    return np.asarray(np.sum(layers, axis=0) / 1.5)


def cells(
    rng: np.random.Generator, shape: tuple[int, int], count: int, waver: float = 6
) -> NDArray[np.int64]:
    """Return angular pieces: for each pixel the number of the nearest of `count` seeds."""
    height, width = shape
    rows, columns = np.mgrid[0:height, 0:width].astype(np.float64)
    rows += waver * noise(rng, shape, 40)
    columns += waver * noise(rng, shape, 40)
    seeds = rng.uniform((0, 0), (height, width), (count, 2))
    _, nearest = KDTree(seeds).query(np.stack([rows.ravel(), columns.ravel()], axis=1))
    return np.asarray(nearest, dtype=np.int64).reshape(shape)


def share_masks(field: Field, shares: list[float], within: Mask) -> list[Mask]:
    """Cut `within` along the heights of `field` into parts of the given shares (percent)."""
    values = np.sort(field[within])
    edges = np.cumsum(shares) / 100 * len(values)
    masks, lower = [], -np.inf
    for edge in edges:
        upper = values[min(round(edge), len(values)) - 1] if edge >= 1 else lower
        masks.append(within & (field > lower) & (field <= upper))
        lower = upper
    return masks


def painted(shape: tuple[int, int], colour: Colour) -> Field:
    """Return a flat picture of one colour, shape (height, width, 3), values 0 to 255."""
    return np.ones((*shape, 3)) * np.asarray(colour, dtype=np.float64)


def shaded(picture: Field, amount: Field) -> Field:
    """Return `picture` made lighter or darker by `amount`, in steps of brightness."""
    return np.asarray(picture + amount[..., None])


def pasted(below: Field, above: Field, mask: Mask | Field) -> Field:
    """Return `above` where `mask` is 1 and `below` where it is 0."""
    part = np.asarray(mask, dtype=np.float64)[..., None]
    return np.asarray(below * (1 - part) + above * part)


def softened(mask: Mask | Field, pixels: float) -> Field:
    """Return the mask with a soft edge."""
    return np.asarray(ndimage.gaussian_filter(np.asarray(mask, dtype=np.float64), pixels))


def inner_distance(mask: Mask) -> Field:
    """Return how far each pixel of the mask lies from its edge."""
    return np.asarray(ndimage.distance_transform_edt(mask))


def moved(mask: Mask | Field, down: int, right: int) -> Field:
    """Return the mask shifted, as a shadow lies."""
    return np.roll(np.asarray(mask, dtype=np.float64), (down, right), axis=(0, 1))


def disc(shape: tuple[int, int], centre: tuple[float, float], radius: float) -> Mask:
    """Return the mask of a disc; `centre` is (x, y)."""
    rows, columns = np.mgrid[0 : shape[0], 0 : shape[1]]
    return np.asarray((rows - centre[1]) ** 2 + (columns - centre[0]) ** 2 <= radius**2)
