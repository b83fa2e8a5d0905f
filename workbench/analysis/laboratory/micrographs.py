"""Sections as a person confirmed them: thickness by layer, from shares of the picture to um."""

from dataclasses import dataclass
from itertools import pairwise
from math import dist

from workbench.analysis.sections import LayerThickness, Scale, Seam, Section, measure_layers
from workbench.analysis.sections.profile import Point
from workbench.records import Points, SectionReading
from workbench.trade.units import in_unit

EDGE_PX = 0.3
"""Standard uncertainty of one edge, in pixels; common practice."""


@dataclass(frozen=True, slots=True)
class ReadSection:
    """A section read.

    Attributes:
        reading: The record.
        scale: Micrometres in a pixel.
        section: Thickness of each layer and gap, in the order of the line.
        seams: The points of each seam in pixels.
        per_profile: Thickness on each profile of each layer, in um, tilt corrected.
    """

    reading: SectionReading
    scale: Scale
    section: Section
    seams: tuple[tuple[Point, ...], ...]
    per_profile: tuple[tuple[float, ...], ...]

    @property
    def layers(self) -> dict[int, LayerThickness]:
        """Thickness by the order of the coat; gaps are left out."""
        named = zip(self.reading.orders, self.section.layers, strict=True)
        return {order: layer for order, layer in named if order is not None}

    @property
    def profiles(self) -> dict[int, tuple[float, ...]]:
        """Thickness on each profile by the order of the coat, in um."""
        named = zip(self.reading.orders, self.per_profile, strict=True)
        return {order: layer for order, layer in named if order is not None}


def in_pixels(points: Points, size: tuple[int, int]) -> tuple[Point, ...]:
    """Return points in pixels of a picture of `size` (width, height)."""
    return tuple((x * size[0], y * size[1]) for x, y in points.points)


def in_shares(points: tuple[Point, ...], size: tuple[int, int]) -> Points:
    """Return points in pixels as shares of a picture of `size`, kept within it."""
    width, height = size
    return Points(tuple((_share(x / width), _share(y / height)) for x, y in points))


def _share(value: float) -> float:
    return round(min(1.0, max(0.0, value)), 6)


def seam_points(
    seams: tuple[Seam, ...], line: tuple[Point, Point], apart_px: float
) -> tuple[tuple[Point, ...], ...]:
    """Return where seams found along parallel profiles lie, in pixels, one tuple a seam."""
    start, end = line
    length = dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    count = len(seams[0].at_px)
    offsets = [(n - (count - 1) / 2) * apart_px for n in range(count)]
    return tuple(
        tuple(
            (start[0] + at * along[0] + off * along[1], start[1] + at * along[1] - off * along[0])
            for at, off in zip(seam.at_px, offsets, strict=True)
        )
        for seam in seams
    )


def read_section(reading: SectionReading, size: tuple[int, int]) -> ReadSection:
    """Return the thickness that a section reading gives on its picture of `size` pixels.

    Raises:
        ValueError: The scale has no length, or seams cross.
        UnitError: A unit is not one of length.
    """
    one, other = in_pixels(reading.scale, size)
    doubt = reading.length_uncertainty
    scale = Scale.from_points(
        one, other, in_unit(reading.length, "um", "um"),
        um_uncertainty=in_unit(doubt, "um", "um") if doubt else 0.0,
    )  # fmt: skip
    start, end = in_pixels(reading.line, size)
    points = in_pixels(reading.seams, size)
    each = reading.profiles
    rows = tuple(points[n : n + each] for n in range(0, len(points), each))
    length = dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    seams = tuple(
        Seam(tuple((x - start[0]) * along[0] + (y - start[1]) * along[1] for x, y in row))
        for row in rows
    )
    section = measure_layers(
        seams, scale, apart_px=reading.apart.value, edge_px=EDGE_PX,
        mount_deg=reading.mount.value if reading.mount else 90.0,
    )  # fmt: skip
    raw = [
        [b - a for a, b in zip(lower.at_px, upper.at_px, strict=True)]
        for lower, upper in pairwise(seams)
    ]
    um_per_px = section.layers[0].mean_um * each / sum(raw[0])
    per_profile = tuple(tuple(px * um_per_px for px in row) for row in raw)
    return ReadSection(reading, scale, section, rows, per_profile)
