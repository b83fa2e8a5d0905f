"""Thickness of the layers between marked seams, tilt corrected, with its uncertainty."""

from dataclasses import dataclass
from itertools import pairwise
from math import cos, dist, hypot, radians, sin, sqrt

import numpy as np

from workbench.analysis.sections.profile import Floats, Point, Scale, edges, profile


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

    Args:
        grey: Image, shape (rows, columns).
        start: Start (x, y) of the middle profile, in pixels, before the first seam.
        end: Its end, behind the last seam.
        layers: How many layers there are; they have one seam more.
        profiles: How many profiles are taken.
        apart_px: Distance between neighbouring profiles, in pixels.
        blur_px: Smoothing along a profile, in pixels.

    Raises:
        ValueError: A profile leaves the image, or shows too few steps.
    """
    length = dist(start, end)
    if length == 0:
        raise ValueError("a profile has two different ends")
    aside = ((end[1] - start[1]) / length, (start[0] - end[0]) / length)
    found = []
    for n in range(profiles):
        off = (n - (profiles - 1) / 2) * apart_px
        move = (aside[0] * off, aside[1] * off)
        ends = [(x + move[0], y + move[1]) for x, y in (start, end)]
        values = profile(grey, ends[0], ends[1], width=max(1, int(apart_px / 2)))
        found.append(edges(values, layers + 1, blur_px=blur_px))
    return tuple(Seam(places) for places in zip(*found, strict=True))


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
