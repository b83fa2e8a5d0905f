"""Colour and gloss of a case: differences from instrument readings; pictures only indicate."""

from dataclasses import dataclass
from math import hypot

from workbench.analysis.colour import Lab, delta_e_76, delta_e_2000, gloss_retention_percent
from workbench.records import ColourMeans, ColourReading, Dossier, Source


@dataclass(frozen=True, slots=True)
class ColourChange:
    """One reading held against another.

    Attributes:
        reading: The reading.
        against: What it is held against.
        de00: CIEDE2000; None where one of the two has no colour.
        de76: CIE 1976 difference.
        lightness: L* of the reading less that of the other.
        chroma: The same of C*.
        gloss_percent: Gloss retained, in percent; None where angle or gloss do not fit.
        indicative: Whether one of the two came from a photograph: an indication, no measurement.
        doubts: What does not fit, as sentences.
    """

    reading: ColourReading
    against: ColourReading
    de00: float | None
    de76: float | None
    lightness: float | None
    chroma: float | None
    gloss_percent: float | None
    indicative: bool
    doubts: tuple[str, ...]

    @property
    def sources(self) -> tuple[Source, ...]:
        """Both readings."""
        return (self.reading.source, self.against.source)


def colour_changes(dossier: Dossier) -> tuple[tuple[ColourChange, ...], tuple[str, ...]]:
    """Return every reading held against the one it names, and which name none that is there."""
    found, problems = [], []
    for one in dossier.all(ColourReading):
        if not one.against:
            continue
        other = dossier.find(ColourReading, one.against)
        if other is None or other.withdrawn:
            problems.append(f"{one.ref}: there is no colour reading {one.against}")
        else:
            found.append(change(one, other))
    return tuple(found), tuple(problems)


def change(one: ColourReading, other: ColourReading) -> ColourChange:
    """Return a reading held against another."""
    here, there = _lab(one), _lab(other)
    both = (here, there) if here and there else None
    gloss, doubt = _gloss(one, other)
    doubts = [doubt] if doubt else []
    if both and one.geometry and other.geometry and one.geometry != other.geometry:
        doubts.append(f"different geometries: {one.geometry} and {other.geometry}")
    if both and one.instrument != other.instrument:
        doubts.append("read with different instruments")
    indicative = ColourMeans.PHOTOGRAPH in (one.means, other.means)
    return ColourChange(
        one, other,
        delta_e_2000(both[1], both[0]) if both else None,
        delta_e_76(both[1], both[0]) if both else None,
        both[0].lightness - both[1].lightness if both else None,
        _chroma(both[0]) - _chroma(both[1]) if both else None,
        gloss, indicative, tuple(doubts),
    )  # fmt: skip


def _lab(one: ColourReading) -> Lab | None:
    if one.lightness is None or one.red_green is None or one.yellow_blue is None:
        return None
    return Lab(one.lightness.value, one.red_green.value, one.yellow_blue.value)


def _chroma(one: Lab) -> float:
    return hypot(one.a, one.b)


def _gloss(one: ColourReading, other: ColourReading) -> tuple[float | None, str]:
    """Return the gloss retained in percent, or why there is none."""
    if one.gloss is None or other.gloss is None:
        return None, ""
    angles = [reading.angle.value if reading.angle else None for reading in (one, other)]
    if None in angles:
        return None, "no gloss retention: an angle is not recorded"
    if angles[0] != angles[1]:
        return None, f"no gloss retention: read at {angles[0]:g}° and at {angles[1]:g}°"
    try:
        return gloss_retention_percent(other.gloss.value, one.gloss.value), ""
    except ValueError:
        return None, "no gloss retention: the first gloss is not above 0"
