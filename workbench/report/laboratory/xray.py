"""Elements by face: bars, spectra, ratios to the control, sums, and what may be taken for what."""

from collections.abc import Sequence

from matplotlib.figure import Figure as Drawing

from workbench.analysis.laboratory.elements import ElementRatio, FaceElements
from workbench.analysis.laboratory.found import Laboratory
from workbench.figures.elements import draw_elements
from workbench.figures.xray import XrayTrace, draw_xrays
from workbench.records import LabResult
from workbench.report.blocks import Block, Figure, Row
from workbench.report.draft import Draft, fact
from workbench.report.figures import WIDTH_MM, look_of
from workbench.report.laboratory.common import (
    drawn,
    headed,
    heads,
    of_sample,
    table,
    unique,
)
from workbench.report.wording import listed, sentence


def elements(draft: Draft, found: Laboratory) -> list[Block]:
    """Return what was found of elements, with overlaps."""
    faces = found.elements.faces
    if not faces and not found.xrays:
        return []
    blocks: list[Block] = []
    if faces:
        blocks += [_bars(draft, faces), *_ratios(draft, found), *_sums(draft, faces)]
    if found.xrays:
        blocks += [_spectra(draft, found), *_peaks(draft, found)]
    blocks += _overlaps(draft, found)
    return headed("Elements", "elements", blocks)


def _bars(draft: Draft, faces: tuple[FaceElements, ...]) -> Figure:
    def draw(drawing: Drawing) -> object:
        said = [
            (of_sample(draft, one.sample, one.face), one.condition, one.shares, one.sources[0])
            for one in faces
        ]
        return draw_elements(drawing, said, look=look_of(draft))

    alt = "Bars of the share of each element by mass on a logarithmic scale, side by side by face."
    return Figure(
        "elements", "Elements by face, failing beside sound and control; n.d.: not detected",
        alt, drawn(draw),
        (WIDTH_MM, 95.0), unique(source for one in faces for source in one.sources),
    )  # fmt: skip


def _ratios(draft: Draft, found: Laboratory) -> list[Block]:
    """Return shares and ratios, a row for each element, a column for each face and its control."""
    blocks: list[Block] = []
    for name in dict.fromkeys(one.control.name for one in found.elements.ratios):
        mine = [one for one in found.elements.ratios if one.control.name == name]
        faces = list({one.face.name: one.face for one in mine}.values())[:_MOST_COLUMNS]
        names = list(dict.fromkeys(one.element for one in mine))
        rows = (_ratio_row(draft, [r for r in mine if r.element == e], e, faces) for e in names)
        control = mine[0].control
        words = of_sample(draft, control.sample, control.face)
        over = (*_over(draft, faces), f"Control {control.sample}")
        columns = heads("Element", *over, numeric=over)
        note = (
            "Share by mass in %, and in brackets how many times the control; with > or < a bound, "
            f"since one of the two lies below its limit.{_light(names)}"
        )
        looked = list(dict.fromkeys(_face_words(draft, one) for one in faces))
        at = f" of {looked[0]}" if len(looked) == 1 and looked[0] else ""
        caption = f"Elements{at} against the control {words}"
        blocks += table(f"element ratios {name}", caption, columns, rows, note, traced=True)
    return blocks


_MOST_COLUMNS = 6


def _over(draft: Draft, faces: Sequence[FaceElements]) -> list[str]:
    """Return what stands over the column of each face: its sample, and its face if they differ."""
    if len({one.sample for one in faces}) == len(faces):
        return [one.sample for one in faces]
    return [of_sample(draft, one.sample, one.face) for one in faces]


def _face_words(draft: Draft, one: FaceElements) -> str:
    return of_sample(draft, one.sample, one.face).removeprefix(one.sample).lstrip(", ")


_LIGHTER_THAN_SODIUM = ("H", "He", "Li", "Be", "B", "C", "N", "O", "F", "Ne")


def _light(names: Sequence[str]) -> str:
    """Return what to keep in mind of elements that the method does not quantify."""
    light = [name for name in names if name in _LIGHTER_THAN_SODIUM]
    if not light:
        return ""
    verb = "is" if len(light) == 1 else "are"
    return (
        f" {listed(light)} {verb} lighter than sodium: reported so by the laboratory, and an "
        "indication only."
    )


def _ratio_row(
    draft: Draft, mine: list[ElementRatio], element: str, faces: Sequence[FaceElements]
) -> Row:
    by_face = {one.face.name: one for one in mine}
    cells = [
        f"{_share(draft, one.face, element)} ({ratio_words(one)})"
        if (one := by_face.get(face.name))
        else "–"
        for face in faces
    ]
    sources = unique(source for one in mine for source in one.sources)
    return Row((element, *cells, _share(draft, mine[0].control, element)), sources)


def ratio_words(one: ElementRatio) -> str:
    """Return a ratio as it is read: a number, a bound, or that there is none."""
    if one.ratio is None:
        return "no ratio"
    digits = 1 if one.ratio < _ONE_DIGIT else 0
    return f"{one.bound} {one.ratio:.{digits}f}×".removeprefix("= ")


_ONE_DIGIT = 9.95


def _share(draft: Draft, face: FaceElements, element: str) -> str:
    """Return a share with the digits that the laboratory gave."""
    if element in face.below:
        return f"< {face.below[element]:g}"
    held = draft.dossier.resolve(face.sources[list(face.shares).index(element)])
    value = held.value.quantity if isinstance(held, LabResult) else None
    return value.text if value else f"{face.shares[element]:g}"


def _sums(draft: Draft, faces: tuple[FaceElements, ...]) -> list[Block]:
    rows = []
    for one in faces:
        closure = one.closure
        if closure is None:
            continue
        rows.append(
            Row(
                (of_sample(draft, one.sample, one.face), one.basis,
                 f"{closure.total_percent:.1f} %", one.closure_words),
                one.sources,
            )
        )  # fmt: skip
    columns = heads("Face", "Reckoned as", "Sum", "May it be scaled to 100 %")
    note = (
        "A sum from 98 to 102 % may be scaled to 100 %; outside it a scaled table hides that "
        "something was not measured (common practice). What lies below its limit counts as "
        f"nothing.{_light(list(dict.fromkeys(n for one in faces for n in one.shares)))}"
    )
    caption = "Sums of the elements reported"
    return table("element sums", caption, columns, rows, note, traced=True)


def _spectra(draft: Draft, found: Laboratory) -> Figure:
    def draw(drawing: Drawing) -> object:
        traces = [
            XrayTrace(
                one.of.spectrum,
                of_sample(draft, one.of.sample, one.of.face) or one.of.name,
                one.of.condition,
                one.of.sources,
            )
            for one in found.xrays
        ]  # fmt: skip
        return draw_xrays(drawing, traces, peaks=found.xrays[0].peaks, look=look_of(draft))

    caption = "X-ray spectra by face, labelled with the elements reported and with no others"
    alt = "Counts over energy on a logarithmic scale, one line for each face, peaks labelled."
    behind = unique(source for one in found.xrays for source in one.of.sources)
    return Figure("xrays", caption, alt, drawn(draw), (WIDTH_MM, 90.0), behind)


def _peaks(draft: Draft, found: Laboratory) -> list[Block]:
    rows = (
        Row(
            (
                of_sample(draft, one.of.sample, one.of.face) or one.of.name,
                ", ".join(one.of.notes) or "not recorded",
                "; ".join(f"{p.label} {p.kev:.2f}" for p in one.peaks if p.lines) or "none",
                "; ".join(f"{p.kev:.2f} keV: {p.doubt}" for p in one.peaks if p.doubt) or "none",
            ),
            one.of.sources,
        )
        for one in found.xrays
    )  # fmt: skip
    columns = heads("Spectrum", "Measured at", "Peaks labelled, keV", "Peaks without a label")
    return table("xray peaks", "Peaks of the X-ray spectra", columns, rows, traced=True)


def _overlaps(draft: Draft, found: Laboratory) -> list[Block]:
    told = dict.fromkeys(
        (*found.elements.warnings, *(words for one in found.xrays for words in one.warnings))
    )
    named = [one for one in draft.dossier.all(LabResult) if one.quantity.startswith("eds:")]
    names = list(dict.fromkeys(name for one in found.elements.faces for name in one.shares))
    none = f"no two of the elements reported ({listed(names)}) have lines too near to be told apart"
    said = [*(told or ([none] if named and names[1:] else [])), *found.elements.mistakable]
    words = " ".join(sentence(one) for one in said)
    return [fact("laboratory: overlaps", words, of=named)] if said else []
