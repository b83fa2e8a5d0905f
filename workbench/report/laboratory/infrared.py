"""Infrared spectra: held against what is known, drawn, assigned."""

from dataclasses import replace

from matplotlib.figure import Figure as Drawing

from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.spectra import Against, LabSpectrum, SpectrumStudy
from workbench.analysis.spectra.spectrum import Spectrum
from workbench.figures.spectra import Trace, draw_spectra
from workbench.records import Assignment, CurveRole
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Figure, Row
from workbench.report.draft import Draft, plain
from workbench.report.figures import WIDTH_MM, look_of
from workbench.report.laboratory.common import (
    drawn,
    headed,
    heads,
    of_sample,
    table,
    unique,
)

_MASKED = (2280.0, 2400.0)


def infrared(draft: Draft, found: Laboratory) -> list[Block]:
    """Return what the spectra say, candidates and no verdicts."""
    shown = tuple(one for one in found.spectra if one.of.role is not CurveRole.CHECK_FILM)
    if not shown:
        return []
    held = [(one, one.against[0]) for one in shown if one.against]
    blocks = _held_table(draft, held)
    best = max(held, key=_telling, default=None)
    blocks.append(_figure(draft, shown, best))
    if told := unique_words(one for study in shown for one in study.of.spectrum.notes):
        blocks.append(plain(f"Told while reading: {'; '.join(told)}."))
    blocks += _assignments(draft)
    return headed("Infrared spectra", "spectra", blocks)


def _telling(pair: tuple[SpectrumStudy, Against]) -> tuple[int, bool, float]:
    """Return how much a difference is worth showing: bands left over, a failing face, unlike."""
    study, against = pair
    failing = study.of.condition is Condition.FAILING
    return len(against.more), failing, -against.match.score


def unique_words(words: object) -> tuple[str, ...]:
    """Return words, each once, in their order."""
    return tuple(dict.fromkeys(words))  # type: ignore[call-overload]  # any iterable of text


def _held_table(draft: Draft, held: list[tuple[SpectrumStudy, Against]]) -> list[Block]:
    rows = (
        Row(
            (
                _name(draft, one.of), _name(draft, against.known),
                _likeness(against.match.score), f"{against.scale:.2f}", _positions(against),
                " ".join(filter(None, (*against.words, _together(draft, one)))),
            ),
            (*one.of.sources, *against.known.sources),
        )
        for one, against in held
    )  # fmt: skip
    columns = heads(
        "Spectrum", "Held against", "r²", "Size", "Left over, 1/cm", "What this may mean",
        numeric=("r²", "Size"),
    )  # fmt: skip
    note = (
        "r²: mean-centred, carbon dioxide of the air left out; a likeness, no identity. Size: how "
        "many times the known spectrum. What this may mean lists candidates and decides nothing."
    )
    return table(
        "spectra compared", "Spectra held against what is known", columns, rows, note, traced=True
    )


_ALIKE = 0.9995
"""Score from which on three digits say 1, which no two real spectra are."""


def _likeness(score: float) -> str:
    return "> 0.999" if score >= _ALIKE else f"{score:.3f}"


def _together(draft: Draft, one: SpectrumStudy) -> str:
    """Return what two known spectra together explain, each named in words."""
    said = one.together
    for held in one.against:
        said = said.replace(held.known.name, _name(draft, held.known))
    return said


def _positions(against: Against) -> str:
    return ", ".join(f"{peak.position:.0f}" for peak in against.more) or "none"


def _figure(
    draft: Draft, studies: tuple[SpectrumStudy, ...], best: tuple[SpectrumStudy, Against] | None
) -> Figure:
    def draw(drawing: Drawing) -> object:
        traces = [
            Trace(one.corrected, _name(draft, one.of), one.of.condition, one.of.sources)
            for one in studies
        ]
        peaks = best[1].more if best and best[1].more else studies[0].peaks[:14]
        return draw_spectra(
            drawing, traces, peaks=peaks, difference=_difference(draft, best) if best else None,
            masked=(_MASKED,) if best else (), look=look_of(draft),
        )  # fmt: skip

    caption = "Infrared spectra by sample and face, baseline taken off, shifted for legibility"
    alt = (
        "Spectra in absorbance over wavenumber from high to low, one line for each sample and "
        "face; beneath them the difference from the known spectrum most alike."
    )
    behind = unique(source for one in studies for source in one.of.sources)
    return Figure(
        "spectra", caption, alt, drawn(draw), (WIDTH_MM, 62.0 + 16 * len(studies)), behind
    )


def _name(draft: Draft, of: LabSpectrum) -> str:
    return of_sample(draft, of.sample, of.face) or of.name


def _difference(draft: Draft, best: tuple[SpectrumStudy, Against]) -> Spectrum:
    """Return what is left over, named in words."""
    one, known = _name(draft, best[0].of), _name(draft, best[1].known)
    title = f"{one} less {best[1].scale:.3g} × {known}"
    return replace(best[1].difference, title=title)


def _assignments(draft: Draft) -> list[Block]:
    rows = (
        Row(
            (one.ref, one.file, one.candidate, one.bands or "–", one.reason,
             one.against or "nothing recorded", one.by),
            (one.source,),
        )
        for one in draft.dossier.all(Assignment)
    )  # fmt: skip
    columns = heads("Ref", "Original", "Held to be", "Bands, 1/cm", "Reason", "Against it", "By")
    return table("assignments", "Assignments of the analyst, with the reason", columns, rows)
