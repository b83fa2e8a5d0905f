"""Thickness of the layers between marked seams, tilt corrected, with its uncertainty."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, dist, hypot, radians, sin, sqrt, tan

import numpy as np
from scipy.ndimage import gaussian_filter1d

from workbench.analysis.sections.profile import (
    Floats,
    Point,
    Scale,
    profile,
    steepness,
    strongest,
    top_near,
)

_TOGETHER_PX = 3.0
_WAVY_PX, _MOST_TILT_DEG = 14, 15


@dataclass(frozen=True, slots=True)
class Seam:
    """One boundary between layers, as found on the profiles.

    Attributes:
        at_px: Its distance from the start of each profile, in pixels, shape (profiles,).
    """

    at_px: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class LayerThickness:
    """One layer over all profiles, in micrometres.

    Attributes:
        least_um: Smallest over the profiles.
        mean_um: Mean over the profiles.
        greatest_um: Largest over the profiles.
        spread_um: Standard deviation over the profiles; None for one profile.
        uncertainty_um: Standard uncertainty of the mean: scale, setting of the edges, and spread.
    """

    least_um: float
    mean_um: float
    greatest_um: float
    spread_um: float | None
    uncertainty_um: float


@dataclass(frozen=True, slots=True)
class Section:
    """A measured section.

    Attributes:
        layers: Thickness of each layer, from the first seam on.
        tilt_deg: Angle between the profiles and the normal to the seams, in degrees, corrected.
        mount_deg: Angle of the cut to the surface, in degrees; 90 is square.
    """

    layers: tuple[LayerThickness, ...]
    tilt_deg: float
    mount_deg: float


def find_seams(
    grey: Floats,
    start: Point,
    end: Point,
    *,
    layers: int,
    profiles: int = 5,
    apart_px: float = 10.0,
    blur_px: float = 2.0,
) -> tuple[Seam, ...]:
    """Return the seams of `layers` layers on parallel profiles, as a proposal for a person.

    The strongest steps of all profiles together decide where seams are; on each profile the
    steepest place near them is taken. In a picture in colour all channels count.

    Args:
        grey: Image, shape (rows, columns), or (rows, columns, 3) in colour.
        start: Start (x, y) of the middle profile, in pixels, before the first seam.
        end: Its end, behind the last seam.
        layers: How many layers there are; they have one seam more.
        profiles: How many profiles are taken.
        apart_px: Distance between neighbouring profiles, in pixels.
        blur_px: Smoothing along a profile, in pixels.

    Raises:
        ValueError: A profile leaves the image, or shows too few steps.
    """
    slopes = [
        steepness(values, blur_px=blur_px)
        for values in _profiles(grey, start, end, profiles, apart_px)
    ]
    places, shifts = _together(slopes, layers + 1, apart_px)
    return tuple(
        Seam(
            tuple(
                top_near(slope, round(at + shift), reach)
                for slope, shift in zip(slopes, shifts, strict=True)
            )
        )
        for at, reach in zip(places, _reaches(places), strict=True)
    )


def _together(
    slopes: Sequence[Floats], count: int, apart_px: float
) -> tuple[tuple[int, ...], tuple[float, ...]]:
    """Return where the steps of all profiles together are strongest, and each profile's shift.

    The profiles are laid on each other along every tilt up to the greatest; the one at which the
    steps fall together best counts.
    """
    best = -1.0
    found: tuple[tuple[int, ...], tuple[float, ...]] = ((), ())
    pixels = np.arange(len(slopes[0]), dtype=np.float64)
    short = None
    for tilt in range(-_MOST_TILT_DEG, _MOST_TILT_DEG + 1):
        step = apart_px * tan(radians(tilt))
        shifts = tuple((n - (len(slopes) - 1) / 2) * step for n in range(len(slopes)))
        laid = [
            np.interp(pixels + shift, pixels, slope[: len(pixels)])
            for slope, shift in zip(slopes, shifts, strict=True)
        ]
        together = gaussian_filter1d(np.mean(laid, axis=0), _TOGETHER_PX)
        try:
            places = strongest(together, count)
        except ValueError as wrong:
            short = wrong
            continue
        score = float(np.sum(together[list(places)]))
        if score > best:
            best, found = score, (places, shifts)
    if best < 0 and short:
        raise short
    return found


def _profiles(
    grey: Floats, start: Point, end: Point, profiles: int, apart_px: float
) -> Iterator[Floats]:
    length = dist(start, end)
    if length == 0:
        raise ValueError("a profile has two different ends")
    aside = ((end[1] - start[1]) / length, (start[0] - end[0]) / length)
    for n in range(profiles):
        off = (n - (profiles - 1) / 2) * apart_px
        one, other = ((x + aside[0] * off, y + aside[1] * off) for x, y in (start, end))
        yield profile(grey, one, other, width=max(1, int(apart_px / 2)))


def _reaches(places: Sequence[int]) -> list[int]:
    """Return how far from its common place a seam may lie on a profile, short of its neighbours."""
    gaps = [max(1, int(0.45 * (b - a))) for a, b in pairwise(places)]
    sides = zip([_WAVY_PX, *gaps], [*gaps, _WAVY_PX], strict=True)
    return [min(_WAVY_PX, before, after) for before, after in sides]


def measure_layers(
    seams: tuple[Seam, ...],
    scale: Scale,
    *,
    apart_px: float,
    edge_px: float = 0.3,
    mount_deg: float = 90.0,
) -> Section:
    """Return the thickness of the layers between `seams`, found on parallel profiles.

    The tilt is that of straight lines through the seams; it is corrected by its cosine, and an
    oblique cut by the sine of its angle.

    Args:
        seams: At least two, in their order along the profiles, each with one place a profile.
        scale: Micrometres in a pixel.
        apart_px: Distance between neighbouring profiles, in pixels.
        edge_px: Standard uncertainty of one edge, in pixels.
        mount_deg: Angle of the cut to the surface, in degrees.

    Raises:
        ValueError: There are fewer than two seams, or they cross, or differ in profiles.
    """
    places = [np.array(seam.at_px, dtype=np.float64) for seam in seams]
    if len(places) < 2 or len({len(at) for at in places}) != 1 or not len(places[0]):
        raise ValueError("a layer lies between two seams, found on the same profiles")
    if not 0 < mount_deg <= 90:
        raise ValueError("`mount_deg` lies above 0 up to 90")
    tilt = _tilt(places, apart_px)
    factor = scale.um_per_px * cos(radians(tilt)) * sin(radians(mount_deg))
    layers = []
    for lower, upper in pairwise(places):
        if np.any(upper <= lower):
            raise ValueError("two seams cross")
        layers.append(_layer((upper - lower) * factor, scale, factor, edge_px))
    return Section(tuple(layers), tilt, mount_deg)


def _tilt(places: list[Floats], apart_px: float) -> float:
    if len(places[0]) < 2:
        return 0.0
    x = np.arange(len(places[0])) * apart_px
    slopes = [float(np.polyfit(x, at, 1)[0]) for at in places]
    return float(np.degrees(np.arctan(np.mean(slopes))))


def _layer(thick: Floats, scale: Scale, factor: float, edge_px: float) -> LayerThickness:
    n = len(thick)
    mean = float(thick.mean())
    spread = float(thick.std(ddof=1)) if n > 1 else None
    setting = sqrt(2) * edge_px * factor / sqrt(n)
    of_mean = hypot(mean * scale.relative_uncertainty, setting, (spread or 0.0) / sqrt(n))
    return LayerThickness(float(thick.min()), mean, float(thick.max()), spread, of_mean)
