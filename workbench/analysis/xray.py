"""Spectra of X-rays from an electron microscope: lines, labels, and what they may be taken for."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import combinations, combinations_with_replacement

import numpy as np
from scipy.signal import find_peaks, savgol_filter

from workbench.analysis.spectra.peaks import parabola_top
from workbench.analysis.spectra.spectrum import Spectrum
from workbench.resources import resource

APART_KEV = 0.055
"""Lines nearer than this are one peak for a detector that resolves 0.13 keV; common practice."""
NEAR_KEV = 0.035
"""How far a peak may stand from the line it is labelled with; common practice."""
_STROBE_KEV = 0.1
_SMOOTH_KEV, _SIGMAS, _LEAST_POINTS = 0.09, 8.0, 9
"""Over what range counts are smoothed, and when a peak is none of chance:
between the highest and the lowest of a hundred channels lie five sigma as it is."""
_MOST_OF_SUM = 0.25
"""Share of the lower of two peaks up to which another may be their sum; common practice."""
_MAIN = ("Ka", "La", "Ma")
_OXYGEN = 15.999


@dataclass(frozen=True, slots=True)
class XrayElement:
    """One element: its lines in keV, its molar mass in g/mol, and its oxide in minerals."""

    symbol: str
    mass: float
    lines: Mapping[str, float]
    oxide: str

    @property
    def oxide_factor(self) -> float:
        """Mass of the oxide for one unit of mass of the element; 1 where it has no oxide."""
        if not self.oxide:
            return 1.0
        here, oxygen = _formula(self.oxide)
        return (here * self.mass + oxygen * _OXYGEN) / (here * self.mass)


def _formula(oxide: str) -> tuple[int, int]:
    counts = [int(number or 1) for _, number in re.findall(r"([A-Z][a-z]?)(\d*)", oxide)]
    return counts[0], counts[1]


@cache
def xray_elements() -> Mapping[str, XrayElement]:
    """Return the elements of the table by symbol."""
    said = tomllib.loads(resource("xray.toml").read_text("utf-8"))
    return {
        symbol: XrayElement(symbol, one["mass"], one["lines"], one.get("oxide", ""))
        for symbol, one in said.items()
    }


@dataclass(frozen=True, slots=True)
class XrayPeak:
    """A peak of a spectrum and what it is labelled with.

    Attributes:
        kev: Where it stands.
        counts: Height in the ordinate's unit.
        prominence: Height over the higher of the valleys beside it.
        lines: Lines of the elements listed that stand there: "Ti Ka", "Ba La".
        doubt: What else it may be: a sum of two photons, the zero of the detector, or elements
            that nobody listed. Empty where there is nothing to say.
    """

    kev: float
    counts: float
    prominence: float
    lines: tuple[str, ...]
    doubt: str

    @property
    def label(self) -> str:
        """The lines, or a question mark where none of a listed element stands there."""
        return " / ".join(map(line_name, self.lines)) or "?"


_GREEK = str.maketrans("abgl", "αβγℓ")


def line_name(line: str) -> str:
    """Return a line as it is printed: "Ti Kα" for "Ti Ka"."""
    element, _, series = line.partition(" ")
    return f"{element} {series[:1]}{series[1:].translate(_GREEK)}".strip()


def label_peaks(
    spectrum: Spectrum, listed: Iterable[str], *, prominence: float = 0.02
) -> tuple[XrayPeak, ...]:
    """Return the peaks of a spectrum labelled with lines of the elements listed, and with no other.

    What stands at the sum of two labelled peaks is called a sum peak before any other element is
    thought of.

    Args:
        spectrum: Abscissa in keV.
        listed: Symbols of the elements that were reported or are asked for.
        prominence: Least prominence, as a share of the highest peak above 0.1 keV.
    """
    x = spectrum.x
    real = x > _STROBE_KEV
    if len(x) < _LEAST_POINTS or not real.any():
        return ()
    step = float(np.median(np.diff(x)))
    across = min(max(5, round(_SMOOTH_KEV / step)) | 1, len(x) - 1 + len(x) % 2)
    y = savgol_filter(spectrum.y, across, 2)
    least = max(prominence * float(y[real].max()), 1e-300)
    places, about = find_peaks(y, prominence=least)
    prominences = about["prominences"]
    if _are_counts(spectrum):
        # what a fit over so many channels leaves of the scatter of counts
        scatter = np.sqrt(np.clip(y[places], 1, None) * 2.25 / across)
        kept = prominences > _SIGMAS * scatter
        places, prominences = places[kept], prominences[kept]
    tops = [parabola_top(x[at - 1 : at + 2], y[at - 1 : at + 2]) for at in places]
    known = frozenset(listed) & xray_elements().keys()
    labelled = [_lines_at(kev, known) for kev in tops]
    strong = {
        kev: float(y[at]) for kev, at, lines in zip(tops, places, labelled, strict=True) if lines
    }
    return tuple(
        XrayPeak(
            kev, float(y[at]), float(prominent), lines, _doubt(kev, float(y[at]), lines, strong)
        )
        for kev, at, prominent, lines in zip(tops, places, prominences, labelled, strict=True)
    )


def _are_counts(spectrum: Spectrum) -> bool:
    return bool(np.all(spectrum.y >= 0) and np.all(spectrum.y == np.round(spectrum.y)))


def _lines_at(kev: float, known: Iterable[str]) -> tuple[str, ...]:
    """Return the line that stands at a peak, and after it those too near to be told apart."""
    near = sorted(
        (abs(at - kev), f"{symbol} {line}")
        for symbol in known
        for line, at in xray_elements()[symbol].lines.items()
        if abs(at - kev) <= APART_KEV
    )
    return tuple(name for _, name in near) if near and near[0][0] <= NEAR_KEV else ()


def _doubt(kev: float, counts: float, lines: tuple[str, ...], strong: Mapping[float, float]) -> str:
    if kev <= _STROBE_KEV:
        return "zero of the detector, no element"
    if lines:
        return ""
    sums = [
        f"{a:.2f} + {b:.2f} keV"
        for a, b in combinations_with_replacement(sorted(strong), 2)
        if abs(a + b - kev) <= NEAR_KEV and counts < _MOST_OF_SUM * min(strong[a], strong[b])
    ]
    others = sorted(
        (abs(at - kev), f"{one.symbol} {line}")
        for one in xray_elements().values()
        for line, at in one.lines.items()
        if line in _MAIN and abs(at - kev) <= NEAR_KEV
    )
    named = ", ".join(name for _, name in others[:3])
    if sums:
        instead = f"; not taken for {named}" if named else ""
        return f"two photons counted as one ({sums[0]}){instead}"
    return f"no line of a listed element; candidates: {named}" if named else "no line of the table"


def overlaps(elements: Iterable[str]) -> tuple[str, ...]:
    """Return a warning for each pair of elements that have lines too near to be told apart.

    Both alpha lines count; a beta line counts against an alpha line.
    """
    return tuple(
        f"{one} and {other} cannot be told apart by energy alone ({words})"
        for one, other in combinations(sorted(set(elements) & xray_elements().keys()), 2)
        if (words := _clash(one, other))
    )


def mistakable(elements: Iterable[str]) -> tuple[str, ...]:
    """Return what else the elements reported may be: others nobody listed, and sums of two photons.

    One sentence of each sort, empty where there is nothing to say.
    """
    held = sorted(set(elements) & xray_elements().keys())
    taken = [
        f"{' or '.join(others)} for {one}"
        for one in held
        if (others := [name for name in possible_confusions(one) if name not in held])
    ]
    sums = [
        f"{' or '.join(pairs)} for {one}"
        for one in held
        if (pairs := sum_peaks(set(held) - {one}, _main_kev(one)))
    ]
    said = []
    if taken:
        said.append(
            f"not reported, and by energy alone easily taken for what was: {'; '.join(taken)}"
        )
    if sums:
        said.append(f"two photons counted as one can look like an element: {'; '.join(sums)}")
    return tuple(said)


def _main_kev(element: str) -> float:
    lines = xray_elements()[element].lines
    return next(lines[name] for name in _MAIN if name in lines)


def possible_confusions(element: str) -> tuple[str, ...]:
    """Return the elements whose line may have been taken for that of `element`."""
    if element not in xray_elements():
        return ()
    return tuple(other for other in xray_elements() if other != element and _clash(element, other))


def _clash(one: str, other: str) -> str:
    """Return the nearest two lines of two elements in words, where they are too near."""
    pairs = (
        (abs(a - b), f"{one} {x} {a:.3f} keV and {other} {y} {b:.3f} keV")
        for x, a in xray_elements()[one].lines.items()
        for y, b in xray_elements()[other].lines.items()
        if x in _MAIN or y in _MAIN
    )
    gap, words = min(pairs)
    return words if gap <= APART_KEV else ""


def sum_peaks(elements: Iterable[str], kev: float, *, within_kev: float = 0.03) -> tuple[str, ...]:
    """Return which pairs of K alpha lines of `elements` add up to a peak at `kev`.

    Two photons counted as one give a peak at the sum of their energies, which is then taken for an
    element that is not there.
    """
    lines = {
        symbol: alpha
        for symbol in set(elements) & xray_elements().keys()
        if (alpha := xray_elements()[symbol].lines.get("Ka"))
    }
    return tuple(
        f"{a} + {b}"
        for a, b in combinations_with_replacement(sorted(lines), 2)
        if abs(lines[a] + lines[b] - kev) <= within_kev
    )
