"""What the laboratory's originals show: spectra, thermograms, sections, elements, observations."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from matplotlib.figure import Figure as Drawing
from PIL import Image, ImageOps

from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.limits import limits_for
from workbench.analysis.laboratory.micrographs import ReadSection
from workbench.analysis.laboratory.spectra import Against, SpectrumStudy
from workbench.analysis.laboratory.thermograms import ReadTransition
from workbench.analysis.spectra.spectrum import Spectrum
from workbench.figures.elements import draw_elements
from workbench.figures.section import draw_section
from workbench.figures.spectra import Trace, draw_spectra
from workbench.figures.thermogram import draw_thermogram
from workbench.records import (
    Assignment,
    Face,
    LabRequest,
    LabResult,
    Microscopy,
    Sample,
    Source,
)
from workbench.records.codes import YesNo
from workbench.report.blocks import Block, Column, Figure, Heading, Row, Table
from workbench.report.draft import Draft, fact, plain
from workbench.report.figures import WIDTH_MM, look_of
from workbench.report.text import See, see_all
from workbench.report.wording import method_title
from workbench.trade.showing import TEMPERATURE

_MOST_FIGURES = 6


def requests(draft: Draft) -> list[Block]:
    """Return the questions put to laboratories, one row for each sample."""
    held = draft.dossier.all(LabRequest)
    if not held:
        return []
    rows = tuple(
        Row(
            (
                one.ref, one.sample, one.question, _method(one),
                one.conditions or "not recorded", _who(one), one.deviation or "not recorded",
            ),
            (one.source,),
        )
        for one in held
    )  # fmt: skip
    headings = ("Ref", "Sample", "Question", "Method", "Conditions", "Done by", "Deviation")
    caption = "Questions put to the laboratory"
    return [
        plain(See("table laboratory requests"), " has the questions put, sample by sample."),
        Table("laboratory requests", caption, tuple(map(Column, headings)), rows, wide=True),
    ]


def _method(one: LabRequest) -> str:
    edition = f", edition {one.edition}" if one.edition else ""
    return f"{method_title(one.method)}{edition}"


def _who(one: LabRequest) -> str:
    where = {YesNo.YES: "own laboratory", YesNo.NO: "outside laboratory", None: ""}[one.own]
    said = (one.laboratory, where, one.analyst, one.supervision and f"under {one.supervision}")
    return ", ".join(part for part in said if part) or "not recorded"


def examinations(draft: Draft) -> list[Block]:
    """Return figures and tables of what the originals show, and what each method can tell."""
    found = draft.results.laboratory
    blocks: list[Block] = []
    if found is not None:
        blocks += [*_spectra(draft, found), *_thermograms(draft, found)]
        blocks += [*_sections(draft, found), *_elements(draft, found)]
    return [*blocks, *_microscopy(draft), *_limits(draft)]


# -- infrared


def _spectra(draft: Draft, found: Laboratory) -> list[Block]:
    if not found.spectra:
        return []
    blocks: list[Block] = [Heading(2, "Infrared spectra", "spectra")]
    held = [(one, one.against[0]) for one in found.spectra if one.against]
    led: list[str | See] = [See("figure spectra"), " shows the spectra"]
    if held:
        led += [", and ", See("table spectra compared"), " what each was held against"]
    blocks.append(plain(*led, "."))
    if held:
        blocks.append(_held_table(draft, held))
    best = max(held, key=lambda pair: len(pair[1].more), default=None)
    blocks.append(_spectra_figure(draft, found.spectra, best))
    return [*blocks, *_assignments(draft)]


def _held_table(draft: Draft, held: list[tuple[SpectrumStudy, Against]]) -> Table:
    rows = tuple(
        Row(
            (
                _of(draft, one.of.sample, one.of.face) or one.of.name,
                _of(draft, against.known.sample, against.known.face) or against.known.name,
                f"{against.match.score:.4f}",
                f"{against.scale:.2f}", _positions(against), " ".join(against.words),
            ),
            (*one.of.sources, *against.known.sources),
        )
        for one, against in held
    )  # fmt: skip
    columns = (
        Column("Spectrum"), Column("Held against"), Column("r²", numeric=True),
        Column("Size", numeric=True), Column("Left over, 1/cm"), Column("What this may mean"),
    )  # fmt: skip
    note = (
        "r²: mean-centred, carbon dioxide of the air left out; a likeness, no identity. Size: how "
        "many times the known spectrum. What this may mean lists candidates and decides nothing."
    )
    return Table(
        "spectra compared", "Spectra held against what is known", columns, rows, note, traced=True
    )


def _positions(against: Against) -> str:
    return ", ".join(f"{peak.position:.0f}" for peak in against.more) or "none"


def _spectra_figure(
    draft: Draft, studies: tuple[SpectrumStudy, ...], best: tuple[SpectrumStudy, Against] | None
) -> Figure:
    def draw(drawing: Drawing) -> object:
        drawing.set_layout_engine("constrained")
        traces = [
            Trace(
                one.corrected,
                _of(draft, one.of.sample, one.of.face) or one.of.name,
                one.of.condition,
                one.of.sources,
            )
            for one in studies
        ]
        peaks = best[1].more if best and best[1].more else studies[0].peaks[:14]
        return draw_spectra(
            drawing, traces, peaks=peaks, difference=_difference(draft, best) if best else None,
            masked=((2280.0, 2400.0),) if best else (), look=look_of(draft),
        )  # fmt: skip

    caption = "Infrared spectra by sample and face, baseline taken off, shifted for legibility"
    alt = (
        "Spectra in absorbance over wavenumber from high to low, one line for each sample and "
        "face; beneath them the difference from the known spectrum most alike."
    )
    behind = tuple(dict.fromkeys(source for one in studies for source in one.of.sources))
    return Figure("spectra", caption, alt, draw, (WIDTH_MM, 62.0 + 16 * len(studies)), behind)


def _difference(draft: Draft, best: tuple[SpectrumStudy, Against]) -> Spectrum:
    """Return what is left over, named in words."""
    of, against = best[0].of, best[1]
    one = _of(draft, of.sample, of.face) or of.name
    known = _of(draft, against.known.sample, against.known.face) or against.known.name
    return replace(against.difference, title=f"{one} less {against.scale:.3g} × {known}")


def _assignments(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Assignment)
    if not held:
        return []
    rows = tuple(
        Row(
            (one.ref, one.file, one.candidate, one.bands or "–", one.reason,
             one.against or "nothing recorded", one.by),
            (one.source,),
        )
        for one in held
    )  # fmt: skip
    headings = ("Ref", "Original", "Held to be", "Bands, 1/cm", "Reason", "Against it", "By")
    caption = "Assignments of the analyst, with the reason"
    return [
        plain(See("table assignments"), " names what each band was held to be, and why."),
        Table("assignments", caption, tuple(map(Column, headings)), rows),
    ]


# -- thermograms


def _thermograms(draft: Draft, found: Laboratory) -> list[Block]:
    if not found.transitions:
        return []
    blocks: list[Block] = [Heading(2, "Glass transitions", "glass transitions")]
    shown = found.transitions[:_MOST_FIGURES]
    blocks.append(
        plain(
            See("table glass transitions"),
            " has every transition read; ",
            *see_all([f"figure thermogram {one.reading.ref}" for one in shown]),
            f" {'shows' if len(shown) == 1 else 'show'} how.",
        )
    )
    rows = tuple(_transition_row(draft, one) for one in found.transitions)
    headings = ("Ref", "Curve", "Definition", "Value", "Other definitions", "By")
    blocks.append(
        Table(
            "glass transitions", "Glass transitions with the definition of each",
            tuple(map(Column, headings)), rows,
            "Temperatures compare only where definition, heat and rate are the same.",
        )
    )  # fmt: skip
    return [*blocks, *(_transition(draft, one) for one in shown)]


def _transition_row(draft: Draft, one: ReadTransition) -> Row:
    others = (
        f"{name} {_celsius(draft, at)}"
        for name, at in one.transition.celsius.items()
        if name != one.reading.definition
    )
    cells = (
        one.reading.ref, one.thermogram.name, one.reading.definition.value,
        _celsius(draft, one.celsius), "; ".join(others), one.reading.by,
    )  # fmt: skip
    return Row(cells, (one.reading.source, *one.thermogram.sources))


def _celsius(draft: Draft, celsius: float) -> str:
    return draft.show.value(TEMPERATURE, celsius)


def _transition(draft: Draft, one: ReadTransition) -> Figure:
    def draw(drawing: Drawing) -> object:
        drawing.set_layout_engine("constrained")
        curve = one.thermogram
        return draw_thermogram(
            drawing, curve.celsius, curve.flow, one.transition, title=curve.name,
            ordinate=curve.part, source=one.reading.source, look=look_of(draft),
        )  # fmt: skip

    caption = f"Thermogram of {one.thermogram.name}, with the lines of its construction"
    alt = "Heat flow over temperature with both baselines, the tangent, and five definitions."
    behind = (one.reading.source, *one.thermogram.sources)
    return Figure(f"thermogram {one.reading.ref}", caption, alt, draw, (WIDTH_MM, 90.0), behind)


# -- sections


def _sections(draft: Draft, found: Laboratory) -> list[Block]:
    drawn = [figure for one in found.sections[:_MOST_FIGURES] if (figure := _section(draft, one))]
    if not drawn:
        return []
    led = [*see_all([f"figure {figure.key}" for figure in drawn])]
    verb = "shows" if len(drawn) == 1 else "show"
    return [
        Heading(2, "Sections", "sections"),
        plain(*led, f" {verb} the layers in section, as a person confirmed them."),
        *drawn,
    ]


def _section(draft: Draft, one: ReadSection) -> Figure | None:
    path = draft.picture(one.reading.file)
    if path is None:
        return None
    system = draft.dossier.system_of(draft.dossier.area_at(one.reading.sample))
    named = {coat.order: coat.product or coat.material.replace("_", " ") for coat in system}
    names = ["gap" if o is None else named.get(o, f"coat {o}") for o in one.reading.orders]

    def draw(drawing: Drawing) -> object:
        with Image.open(path) as image:
            pixels = np.asarray(ImageOps.exif_transpose(image).convert("RGB"), dtype=np.uint8)
        return draw_section(
            drawing, pixels, one.seams, one.section, one.scale, names=names,
            source=one.reading.source, look=look_of(draft),
        )  # fmt: skip

    caption = (
        f"Section of {one.reading.sample} ({one.reading.file}): layers on "
        f"{one.reading.profiles} profiles, confirmed by {one.reading.confirmed_by}"
    )
    alt = "Micrograph with the seams between layers marked, and the thickness of each layer."
    return Figure(
        f"section {one.reading.ref}", caption, alt, draw, (WIDTH_MM, 110.0), (one.reading.source,)
    )


# -- elements


def _elements(draft: Draft, found: Laboratory) -> list[Block]:
    faces = found.elements.faces
    if not faces:
        return []

    def draw(drawing: Drawing) -> object:
        drawing.set_layout_engine("constrained")
        said = [
            (_of(draft, one.sample, one.face), one.condition, one.shares, one.sources[0])
            for one in faces
        ]
        return draw_elements(drawing, said, look=look_of(draft))

    behind = tuple(source for one in faces for source in one.sources)
    alt = "Bars of the share of each element by mass on a logarithmic scale, side by side by face."
    figure = Figure(
        "elements", "Elements by face, failing beside sound and control; n.d.: not detected",
        alt, draw,
        (WIDTH_MM, 85.0), behind,
    )  # fmt: skip
    told = [f"{one}." for one in found.elements.warnings]
    named = [one for one in draft.dossier.all(LabResult) if one.source in set(behind)]
    warning = [fact("laboratory: overlaps", " ".join(told), of=named)] if told else []
    led = plain(See("figure elements"), " sets the shares of the elements side by side by face.")
    return [Heading(2, "Elements", "elements"), led, figure, *warning]


# -- microscopy, and what methods can tell


def _microscopy(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Microscopy)
    if not held:
        return []
    rows = tuple(
        Row(
            (
                one.ref, _of(draft, one.sample, str(one.face or "")), _how(one), one.feature,
                draft.show.outcome(one.found), one.where or "–", one.file or "–",
            ),
            (one.source,),
        )
        for one in held
    )  # fmt: skip
    headings = ("Ref", "Sample, face", "Seen how", "Looked for", "Found", "Where", "Picture")
    caption = "Microscopy and petrography, one thing looked for in each row"
    return [
        plain(See("table microscopy"), " has what was looked for under the microscope."),
        Table("microscopy", caption, tuple(map(Column, headings)), rows),
    ]


def _of(draft: Draft, sample: str, face: str) -> str:
    """Return sample and face, planes and layers in words."""
    held = draft.dossier.find(Sample, sample)
    area = draft.dossier.area_of(held) if held else draft.dossier.area_at(sample)
    words = draft.face_words(Face.read(face), area) if face else ""
    return ", ".join(filter(None, (sample, words)))


def _how(one: Microscopy) -> str:
    times = f"{one.magnification}×" if one.magnification else ""
    said: Iterable[object] = (one.method, one.preparation, one.illumination, times)
    return ", ".join(str(part) for part in said if part) or "not recorded"


def _limits(draft: Draft) -> list[Block]:
    held = draft.dossier.all(LabResult)
    used = limits_for(one.method for one in held)
    if not used:
        return []
    rows = tuple(
        Row((one.title, " ".join(one.can), _cannot(one.cannot, one.detection)), _by(held, one.id))
        for one in used
    )
    columns = (Column("Method"), Column("Can tell"), Column("Cannot tell"))
    caption = "What each method used can and cannot tell"
    return [
        Heading(2, "What these results can and cannot tell", "laboratory limits"),
        plain(
            "Each result is to be read with the reach of its method: ",
            See("table method limits"),
            ".",
        ),
        Table("method limits", caption, columns, rows),
    ]


def _cannot(sentences: Iterable[str], detection: str) -> str:
    found = f" Least found: {detection}." if detection else ""
    return " ".join(sentences) + found


def _by(held: Iterable[LabResult], method: str) -> tuple[Source, ...]:
    return tuple(one.source for one in held if one.method == method)
