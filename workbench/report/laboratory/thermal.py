"""Thermograms: glass transitions, two heats, residual cure, estimates."""

from matplotlib.figure import Figure as Drawing

from workbench.analysis.laboratory.estimates import Estimated
from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.peaks import ReadPeak
from workbench.analysis.laboratory.thermograms import RISE_K, ReadTransition, Thermogram
from workbench.figures.heats import HeatTrace, draw_heats, draw_peak
from workbench.figures.thermogram import draw_thermogram
from workbench.records import TgEstimate
from workbench.report.blocks import Block, Figure, Row
from workbench.report.draft import Draft, fact
from workbench.report.figures import WIDTH_MM, look_of
from workbench.report.laboratory.common import (
    MOST_FIGURES,
    celsius,
    drawn,
    headed,
    heads,
    of_sample,
    table,
    unique,
)


def thermal(draft: Draft, found: Laboratory) -> list[Block]:
    """Return what the thermograms say, with constructions."""
    samples = tuple(one for one in found.thermograms if one.sample and one.heating)
    if not samples and not found.estimates:
        return []
    blocks: list[Block] = []
    if samples:
        blocks.append(_overlay(draft, found, samples))
    read = [one for one in found.transitions if one.reading.sample]
    blocks += [*_transitions(draft, read), *_two_heats(draft, found)]
    blocks += [_construction(draft, one) for one in read[:MOST_FIGURES]]
    blocks += [*_peaks(draft, found), *_estimates(draft, found)]
    return headed("Thermograms", "thermograms", blocks)


def _overlay(draft: Draft, found: Laboratory, curves: tuple[Thermogram, ...]) -> Figure:
    read = {id(one.thermogram): one.celsius for one in found.transitions}
    shown = sorted(curves, key=lambda one: (one.heat or "", one.condition.value))[
        : 2 * MOST_FIGURES
    ]

    def draw(drawing: Drawing) -> object:
        traces = [
            HeatTrace(
                one.celsius, one.flow, _name(draft, one), one.condition, read.get(id(one)),
                one.sources[0] if one.sources else None,
            )
            for one in shown
        ]  # fmt: skip
        ways = {one.exotherm_up for one in shown}
        way = ways.pop() if len(ways) == 1 else None
        return draw_heats(drawing, traces, exotherm_up=way, look=look_of(draft))

    caption = "Thermograms by sample and heat, failing beside sound, shifted for legibility"
    alt = "Heat flow over temperature, one line for each sample and heat, with the temperatures."
    behind = unique(source for one in shown for source in one.sources)
    size = (WIDTH_MM, 45.0 + 17 * len(shown))
    return Figure("thermograms", caption, alt, drawn(draw), size, behind)


def _name(draft: Draft, one: Thermogram) -> str:
    """Return sample, face in words, and heat."""
    heat = f"{one.heat} heat" if one.heat else ""
    return ", ".join(filter(None, (of_sample(draft, one.sample, one.face), heat)))


def _transitions(draft: Draft, held: list[ReadTransition]) -> list[Block]:
    columns = heads("Ref", "Curve", "Definition", "Value", "Other definitions", "Rate", "By")
    return table(
        "glass transitions", "Glass transitions with the definition of each", columns,
        (_transition_row(draft, one) for one in held),
        "Temperatures compare only where definition, heat and rate are the same.",
    )  # fmt: skip


def _transition_row(draft: Draft, one: ReadTransition) -> Row:
    others = "; ".join(
        f"{name} {celsius(draft, at)}"
        for name, at in one.transition.celsius.items()
        if name != one.reading.definition
    )
    rate = str(one.reading.rate) if one.reading.rate else "not recorded"
    doubt = f"; {one.doubt}" if one.doubt else ""
    cells = (
        one.reading.ref, _name(draft, one.thermogram), one.reading.definition.value,
        celsius(draft, one.celsius), f"{others}{doubt}", rate, one.reading.by,
    )  # fmt: skip
    return Row(cells, (one.reading.source, *one.thermogram.sources))


def _two_heats(draft: Draft, found: Laboratory) -> list[Block]:
    rows = (
        Row(
            (
                of_sample(draft, one.first.reading.sample, str(one.first.reading.face or "")),
                one.first.reading.definition.value, celsius(draft, one.first.celsius),
                celsius(draft, one.second.celsius),
                _rise(draft, one.rise_k),
                one.words.replace(f"{RISE_K:g} K", draft.show.difference(RISE_K)),
            ),
            (one.first.reading.source, one.second.reading.source),
        )
        for one in found.heats
    )  # fmt: skip
    columns = heads("Sample", "Definition", "First heat", "Second heat", "Rise", "May mean")
    return table("two heats", "First and second heat", columns, rows, traced=True)


def _rise(draft: Draft, kelvin: float) -> str:
    """Return a difference of temperatures with its sign."""
    shown = draft.show.difference(abs(kelvin))
    return f"{'+' if kelvin >= 0 else '−'}{shown}"


def _construction(draft: Draft, one: ReadTransition) -> Figure:
    def draw(drawing: Drawing) -> object:
        curve = one.thermogram
        return draw_thermogram(
            drawing, curve.celsius, curve.flow, one.transition, title=_name(draft, curve),
            ordinate=curve.part, source=one.reading.source, look=look_of(draft),
        )  # fmt: skip

    caption = f"Thermogram of {_name(draft, one.thermogram)}, with the lines of its construction"
    alt = "Heat flow over temperature with both baselines, the tangent, and five definitions."
    behind = (one.reading.source, *one.thermogram.sources)
    return Figure(
        f"thermogram {one.reading.ref}", caption, alt, drawn(draw), (WIDTH_MM, 64.0), behind
    )


def _peaks(draft: Draft, found: Laboratory) -> list[Block]:
    held = [one for one in found.peaks if one.reading.sample]
    degrees = {one.residual.reading.ref: one for one in found.cures}
    rows = []
    for one in held:
        cure = degrees.get(one.reading.ref)
        degree = f"{cure.words} against {cure.fresh.reading.ref}" if cure else "–"
        ends = (one.reading.first.value, one.reading.last.value)
        between = " to ".join(celsius(draft, end) for end in ends)
        cells = (
            one.reading.ref, _name(draft, one.thermogram), one.reading.peak.value,
            between,
            f"{one.energy_j_g:.1f} J/g, {one.words}", degree, one.reading.by,
        )  # fmt: skip
        rows.append(Row(cells, (one.reading.source, *one.thermogram.sources)))
    columns = heads("Ref", "Curve", "Peak of", "Between", "Energy", "Degree of cure", "By")
    note = (
        "Degree of cure: 1 less the exotherm left over that of the fresh mixture. It tells the "
        "state at the test, not that at the time of loading."
    )
    blocks = table("peaks", "Residual exotherm and degree of cure", columns, rows, note)
    return [*blocks, *(_peak(draft, one) for one in held if one.shows)][: MOST_FIGURES + 1]


def _peak(draft: Draft, one: ReadPeak) -> Figure:
    def draw(drawing: Drawing) -> object:
        title = _name(draft, one.thermogram)
        return draw_peak(drawing, one, title=title, look=look_of(draft))

    caption = f"Peak of {one.reading.peak} on {_name(draft, one.thermogram)}"
    alt = "Heat flow over temperature, the line between the ends of the peak, its area hatched."
    behind = (one.reading.source, *one.thermogram.sources)
    return Figure(f"peak {one.reading.ref}", caption, alt, drawn(draw), (WIDTH_MM, 62.0), behind)


def _estimates(draft: Draft, found: Laboratory) -> list[Block]:
    if not found.estimates:
        return []
    columns = heads(
        "Ref", "Sample", "Rule", "Reckoned from", "Estimate", "Read on the sample", "Basis"
    )
    rows = tuple(_estimate_row(draft, one) for one in found.estimates)
    words = (
        "A glass transition can be reckoned from what is mixed (Fox) or from how far it is cured "
        "(DiBenedetto). Such estimates stand beside the readings and replace none: the "
        "parameters are fitted to one material, and Fox's rule holds for one phase only."
    )
    formulas = dict.fromkeys(f"{one.record.rule}: {one.formula}" for one in found.estimates)
    note = f"{'. '.join(formulas)}."
    return [
        *table("estimates", "Glass transition and cure by rule", columns, rows, note),
        fact("laboratory: estimates", words, of=[one.record for one in found.estimates]),
    ]


def _parts(draft: Draft, record: TgEstimate) -> list[str]:
    """Return the parts of a mixture: "98 % by mass of 64.0 °C"."""
    shares, transitions = (
        [part.strip() for part in said.split(";") if part.strip()]
        for said in (record.shares, record.transitions)
    )
    return [
        f"{share} % by mass of {celsius(draft, float(at))}"
        for share, at in zip(shares, transitions, strict=False)
    ]


def _estimate_row(draft: Draft, one: Estimated) -> Row:
    record = one.record
    given = (
        ("uncured", record.uncured), ("cured", record.cured), ("cure", record.conversion),
        ("read", record.read), ("λ", record.interaction),
    )  # fmt: skip
    told = [f"{name} {draft.show.quantity(value)}" for name, value in given if value]
    said = ", ".join((*told, *_parts(draft, record)))
    value = f"{100 * one.value:.0f} % cured" if one.is_cure else celsius(draft, one.value)
    read = "; ".join(celsius(draft, at) for at, _ in one.read) or "nothing"
    cells = (
        record.ref, of_sample(draft, record.sample, str(record.face or "")),
        record.rule.value, said, value, read, record.basis,
    )  # fmt: skip
    return Row(cells, (record.source, *(source for _, source in one.read)))
