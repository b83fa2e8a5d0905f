"""A grey profile across the layers, and the edges along it."""

from dataclasses import dataclass
from math import dist, hypot

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import gaussian_filter1d, map_coordinates

from workbench.analysis.spectra.peaks import parabola_top

Floats = NDArray[np.float64]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """How long a pixel is.

    Attributes:
        um_per_px: Micrometres in a pixel.
        relative_uncertainty: Standard uncertainty of `um_per_px`, as a fraction.
    """

    um_per_px: float
    relative_uncertainty: float = 0.0

    @classmethod
    def from_points(
        cls, one: Point, other: Point, um: float, *, um_uncertainty: float = 0.0, px: float = 0.5
    ) -> "Scale":
        """Return the scale from two points a known distance apart, such as a bar's ends.

        The relative standard uncertainty is the root sum of squares of that of the length and
        that of the two ends.

        Args:
            one: First point (x, y) in pixels.
            other: Second point in pixels.
            um: Their distance in micrometres.
            um_uncertainty: Standard uncertainty of `um`, in micrometres.
            px: Standard uncertainty of setting the two ends together, in pixels.

        Raises:
            ValueError: The points coincide or the distance is not above 0.
        """
        apart = dist(one, other)
        if apart == 0 or um <= 0:
            raise ValueError("the scale needs two different points and a length above 0")
        return cls(um / apart, hypot(um_uncertainty / um, px / apart))


def profile(grey: Floats, start: Point, end: Point, *, width: int = 1) -> Floats:
    """Return the grey values from `start` to `end`, at steps of one pixel.

    Args:
        grey: Image, shape (rows, columns), or (rows, columns, channels).
        start: First point (x, y) in pixels.
        end: Last point in pixels.
        width: Over how many parallel lines, a pixel apart, the values are averaged.

    Returns:
        Shape (n,), or (n, channels); n is the length in pixels rounded up, plus one.

    Raises:
        ValueError: The line is shorter than 5 pixels or leaves the image.
    """
    length = dist(start, end)
    if length < 5:
        raise ValueError("a profile is at least 5 pixels long")
    rows, columns = grey.shape[:2]
    for x, y in (start, end):
        if not (0 <= x <= columns - 1 and 0 <= y <= rows - 1):
            raise ValueError("the profile leaves the image")
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    steps = np.arange(0, int(np.ceil(length)) + 1)
    steps = steps[steps <= length]
    aside = np.arange(width) - (width - 1) / 2
    columns_at = start[0] + steps[:, None] * along[0] - aside[None, :] * along[1]
    rows_at = start[1] + steps[:, None] * along[1] + aside[None, :] * along[0]
    if grey.ndim == 2:
        return _along(grey, rows_at, columns_at)
    return np.stack([_along(grey[..., n], rows_at, columns_at) for n in range(3)], axis=1)


def _along(channel: Floats, rows: Floats, columns: Floats) -> Floats:
    values = map_coordinates(channel.astype(np.float64), [rows, columns], order=1, mode="nearest")
    return np.asarray(values.mean(axis=1), dtype=np.float64)


def steepness(values: Floats, *, blur_px: float) -> Floats:
    """Return how steep a profile is at each pixel, all its channels together, shape (n,).

    Args:
        values: A profile, shape (n,), or (n, channels) of a picture in colour.
        blur_px: Standard deviation of the Gaussian, in pixels.
    """
    slope = gaussian_filter1d(values, blur_px, axis=0, order=1, mode="nearest")
    return np.abs(slope) if values.ndim == 1 else np.sqrt(np.sum(slope**2, axis=1))


def strongest(slope: Floats, count: int) -> tuple[int, ...]:
    """Return where the `count` greatest maxima of a steepness lie, in their order.

    Raises:
        ValueError: It has fewer.
    """
    tops = np.flatnonzero((slope[1:-1] > slope[:-2]) & (slope[1:-1] >= slope[2:])) + 1
    if len(tops) < count:
        raise ValueError(f"the profile shows {len(tops)} steps, not {count}")
    return tuple(sorted(int(top) for top in tops[np.argsort(slope[tops])[-count:]]))


def top_near(slope: Floats, at: int, reach: int) -> float:
    """Return the greatest steepness within `reach` of a pixel, between pixels by a parabola."""
    low, high = max(1, at - reach), min(len(slope) - 2, at + reach)
    top = low + int(np.argmax(slope[low : high + 1]))
    places = np.arange(top - 1, top + 2, dtype=np.float64)
    place = parabola_top(places, slope[top - 1 : top + 2])
    return float(np.clip(place, top - 1, top + 1))
