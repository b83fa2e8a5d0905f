"""The spectra of a case together: bands, likeness to what is known, and what is left over."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from workbench.analysis.spectra.bands import Candidate, candidates
from workbench.analysis.spectra.baseline import asymmetric_least_squares, smooth
from workbench.analysis.spectra.matching import MASKED, Match, difference, match, mixture
from workbench.analysis.spectra.peaks import Peak, pick
from workbench.analysis.spectra.spectrum import Floats, Ordinate, Spectrum
from workbench.analysis.spectra.wavenumber import WavenumberCheck, check_wavenumbers
from workbench.records import CurveRole, Source
from workbench.records.codes import Condition

KNOWN_ROLES = (CurveRole.CONTROL, CurveRole.REFERENCE)
_KNOWN_CONDITIONS = (Condition.CONTROL, Condition.NON_FAILING)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LabSpectrum:
    """A spectrum and what it was measured on.

    Attributes:
        spectrum: As read.
        file: Name of the original.
        part: Title of the block or heading of the column.
        sample: Ref of the sample; empty where none is said.
        face: The face, as written.
        condition: What the sample stands for.
        role: What the spectrum is for.
        technique: How it was measured, as written; empty where nobody said.
        sources: The records that name the file.
    """

    spectrum: Spectrum
    file: str
    part: str = ""
    sample: str = ""
    face: str = ""
    condition: Condition = Condition.UNKNOWN
    role: CurveRole = CurveRole.SPECIMEN
    technique: str = ""
    sources: tuple[Source, ...] = ()

    @property
    def name(self) -> str:
        """Sample and face, or the title where no sample is said."""
        said = ", ".join(part for part in (self.sample, self.face) if part)
        return said or self.spectrum.title

    @property
    def known(self) -> bool:
        """Whether others may be held against it: a control, a reference, a sound sample."""
        return self.role in KNOWN_ROLES or (
            self.role is CurveRole.SPECIMEN and self.condition in _KNOWN_CONDITIONS
        )


@dataclass(frozen=True, slots=True)
class SpectrumSettings:
    """Choices of the evaluation.

    Attributes:
        masked: Regions left out of every comparison, in 1/cm.
        prominence: Least height of a band, as a share of the span.
        leftover: Least height of a band of a difference, as a share of the span of the spectrum.
        smooth: Over how many points a spectrum is smoothed before bands are picked; 0 for none.
        slopes: Compare first differences, in which a sloping baseline counts for less.
        baseline: Subtract a baseline by asymmetric least squares before bands are picked.
        alike: Score from which two spectra are called alike.
    """

    masked: tuple[tuple[float, float], ...] = MASKED
    prominence: float = 0.02
    leftover: float = 0.03
    smooth: int = 0
    slopes: bool = False
    baseline: bool = True
    alike: float = 0.95


@dataclass(frozen=True, slots=True, eq=False)
class Against:
    """One spectrum held against a known one.

    Attributes:
        known: The known spectrum.
        match: Likeness.
        scale: How many times the known spectrum's size it is.
        difference: What is left.
        more: Bands that the spectrum shows and the known one does not.
        less: Bands that the known one shows and the spectrum does not.
        fits: Chemistries that the bands left over are candidates for.
        words: What this may mean: candidates with what else would look so, no verdict.
    """

    known: LabSpectrum
    match: Match
    scale: float
    difference: Spectrum
    more: tuple[Peak, ...]
    less: tuple[Peak, ...]
    fits: tuple[Candidate, ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class SpectrumStudy:
    """One spectrum evaluated.

    Attributes:
        of: The spectrum.
        corrected: In absorbance, baseline taken off where asked for.
        peaks: Its bands.
        candidates: Chemistries it is a candidate for.
        against: Held against each known spectrum, the most alike first.
        together: What two known spectra together explain, in words; empty where one does as well.
        wavenumbers: The check with a polystyrene film; None for all but the check film.
        problems: What could not be done, as sentences.
    """

    of: LabSpectrum
    corrected: Spectrum
    peaks: tuple[Peak, ...]
    candidates: tuple[Candidate, ...]
    against: tuple[Against, ...] = ()
    together: str = ""
    wavenumbers: WavenumberCheck | None = None
    problems: tuple[str, ...] = field(default=())


def corrected(spectrum: Spectrum, *, baseline: bool = True, smooth_over: int = 0) -> Spectrum:
    """Return a spectrum in absorbance, smoothed and on a level baseline where asked for.

    Raises:
        ValueError: `smooth_over` is no odd number above 3, or longer than the spectrum.
    """
    inked = spectrum.absorbance()
    if smooth_over:
        inked = replace(inked, y=smooth(inked.y, window=smooth_over))
    if not baseline or len(inked.x) < 10:
        return inked
    y = inked.y - asymmetric_least_squares(inked.y)
    return Spectrum(inked.title, inked.x, y, Ordinate.ABSORBANCE, inked.notes)


def study_spectrum(
    of: LabSpectrum, known: Sequence[LabSpectrum], settings: SpectrumSettings | None = None
) -> SpectrumStudy:
    """Return a spectrum evaluated by itself and against every known one.

    Args:
        of: The spectrum.
        known: Controls and references of the case; itself among them is passed over.
        settings: Choices of the evaluation.
    """
    settings = settings or SpectrumSettings()
    level = corrected(of.spectrum, baseline=settings.baseline, smooth_over=settings.smooth)
    peaks = pick(level, prominence=settings.prominence) if len(level.x) >= 3 else ()
    fits = candidates(peaks, low=float(level.x[0]), high=float(level.x[-1]))
    held, problems = [], []
    for other in known if of.role is not CurveRole.CHECK_FILM else ():
        if other is of or (other.file, other.part) == (of.file, of.part):
            continue
        try:
            held.append(hold_against(of, other, settings))
        except ValueError as wrong:
            problems.append(f"{of.name} against {other.name}: {wrong}")
    check = check_wavenumbers(of.spectrum) if of.role is CurveRole.CHECK_FILM else None
    ranked = tuple(sorted(held, key=lambda one: -one.match.score))
    alike = ranked[0].match.score if ranked else 0.0
    together = _together(of, [one.known for one in ranked]) if alike < _ALIKE else ""
    return SpectrumStudy(of, level, peaks, fits, ranked, together, check, tuple(problems))


_ALIKE = 0.999
"""Likeness from which on what a known spectrum leaves is noise, and no second one is sought."""
_TELLING = 0.8
"""Share of what one known spectrum leaves, up to which a second one explains more; a choice."""


def _together(of: LabSpectrum, known: Sequence[LabSpectrum]) -> str:
    """Return how far the most alike and one other together explain a spectrum, in words."""
    if len(known) < 2:
        return ""
    first, found = known[0], []
    for other in known[1:]:
        try:
            found.append((mixture(of.spectrum, (first.spectrum, other.spectrum)), other))
        except ValueError:
            continue
    best, other = min(found, key=lambda pair: pair[0].residual, default=(None, first))
    if best is None or best.shares[1] <= 0 or best.residual > _TELLING * best.alone:
        return ""
    one, two = best.shares
    percent = 100 * best.residual / best.alone
    return (
        f"{one:.2g} × {first.name} and {two:.2g} × {other.name} together leave "
        f"{percent:.0f} % of what {first.name} alone leaves (700 to 1850 1/cm): "
        "candidate for a mixture of the two; these are sizes of spectra, no shares by mass."
    )


def hold_against(
    of: LabSpectrum, known: LabSpectrum, settings: SpectrumSettings | None = None
) -> Against:
    """Return a spectrum held against a known one: likeness, difference, and what is left over.

    Raises:
        ValueError: The two have too little of their range in common.
    """
    settings = settings or SpectrumSettings()
    score = match(of.spectrum, known.spectrum, masked=settings.masked, slopes=settings.slopes)
    rest, scale = difference(of.spectrum, known.spectrum, masked=settings.masked)
    rest = replace(rest, title=f"{of.name} less {scale:.3g} × {known.name}")
    span = float(np.ptp(of.spectrum.absorbance().y))
    level = rest.y - np.median(rest.y)
    more = _left_over(rest.x, level, span, settings.leftover)
    less = _left_over(rest.x, -level, span, settings.leftover)
    fits = candidates(more, low=score.low, high=score.high)
    words = (*_meaning(score, scale, more, less, fits, settings), *_otherwise(of, known))
    return Against(known, score, scale, rest, more, less, fits, words)


def _otherwise(of: LabSpectrum, known: LabSpectrum) -> tuple[str, ...]:
    """Say where two spectra were measured otherwise, so that heights of bands differ by it."""
    one, other = of.technique.strip(), known.technique.strip()
    if not (one and other) or one.casefold() == other.casefold():
        return ()
    return (f"Measured by {one}, the other by {other}: heights of bands differ by that alone.",)


def _left_over(x: Floats, y: Floats, span: float, least: float) -> tuple[Peak, ...]:
    """Return the bands of a difference that stand above noise and above a share of the span."""
    reach = float(np.ptp(y))
    if reach == 0 or span == 0:
        return ()
    noise = 1.4826 * float(np.median(np.abs(np.diff(y)))) / np.sqrt(2)
    wanted = max(least * span, 6 * noise)
    found = pick(Spectrum("difference", x, y, Ordinate.ABSORBANCE), prominence=wanted / reach)
    return tuple(peak for peak in found if peak.height > wanted / 2)


def _meaning(
    score: Match,
    scale: float,
    more: Sequence[Peak],
    less: Sequence[Peak],
    fits: Sequence[Candidate],
    settings: SpectrumSettings,
) -> tuple[str, ...]:
    said = []
    if not more and not less and score.score >= settings.alike:
        said.append("No band stands out of the difference; a layer thin enough would not show.")
        if abs(scale - 1) > 0.1:
            size = "more" if scale > 1 else "less"
            said.append(f"Same bands, {scale:.2g} times the size: candidate for {size} film.")
    if more:
        at = ", ".join(f"{peak.position:.0f}" for peak in more[:8])
        named = " or ".join(one.chemistry.title for one in fits[:3])
        said.append(
            f"Bands left over at {at} 1/cm: candidate for a second material"
            f"{f', such as {named}' if named else ''}, for more of a part of the film, or for an "
            "artefact of contact or baseline."
        )
    if less:
        at = ", ".join(f"{peak.position:.0f}" for peak in less[:8])
        said.append(f"Bands wanting at {at} 1/cm: candidate for a part lost, or not there.")
    if not said:
        said.append("Too little alike to take one off the other; compare with another reference.")
    return tuple(said)
