"""Laboratory results: what was found, on which sample, against which control."""

from collections.abc import Sequence
from dataclasses import replace

from workbench.records import LabRequest, LabResult, Party
from workbench.records.codes import Role
from workbench.report.blocks import Block, Row, Section, Table, headed
from workbench.report.draft import Draft, fact, plain, sources
from workbench.report.laboratory.requests import requests
from workbench.report.refs import in_short
from workbench.report.sections.examinations import examinations
from workbench.report.tallies import grouped, sample_of, stands_for
from workbench.report.text import See, Text, Value, text
from workbench.report.text import plain as words_of
from workbench.report.values import outside_mark
from workbench.report.wording import counted, listed, number_word, short_title, span
from workbench.trade.names import quantity_name, spoken

_SIDES = ("failing", "non-failing", "control")


def laboratory(draft: Draft) -> Section:
    """Return the section on laboratory results."""
    held = draft.dossier.all(LabResult)
    if not held:
        nothing = plain("No laboratory result is recorded.")
        return Section("laboratory", "Laboratory results", (nothing,), short=False)
    blocks: list[Block] = [
        *_who(draft, held),
        *requests(draft),
        _results(draft, held),
        *_deviations(held, draft.dossier.all(LabRequest)),
        *examinations(draft),
    ]
    return Section("laboratory", "Laboratory results", tuple(blocks), short=False)


def _who(draft: Draft, held: Sequence[LabResult]) -> list[Block]:
    where = list(dict.fromkeys(one.laboratory for one in held if one.laboratory))
    analysts = list(dict.fromkeys(one.analyst for one in held if one.analyst))
    named = {p.name for p in draft.dossier.all(Party) if p.role is Role.LABORATORY}
    outside = [name for name in where if name in named] or where
    blocks: list[Block] = [
        fact(
            "laboratory: who",
            f"{counted(len(held), 'result').capitalize()} "
            f"{'was' if len(held) == 1 else 'were'} reported"
            f"{f' by {listed(where)}' if where else ''}"
            f"{f' (analyst: {listed(analysts)})' if analysts else ''}, from work done "
            f"{span(one.date for one in held)}. Each result with its method, deviation and "
            "uncertainty is in ",
            See("table laboratory results"),
            "; ",
            See("table results by side"),
            " sets failing beside sound and control.",
        ),
    ]
    if outside:
        verb = "is an outside laboratory" if len(outside) == 1 else "are outside laboratories"
        asked = " beyond what is said of a request" if draft.dossier.all(LabRequest) else ""
        its = "its" if len(outside) == 1 else "their"
        blocks.append(
            plain(
                f"{listed(outside)} {verb}; {its} results are marked ‡. "
                f"{its.capitalize()} analysts worked to their own procedures; the records name no "
                f"supervision by the author of this report{asked}."
            )
        )
    blocks.append(
        plain(
            "A method can only find what it can see: “none found” is limited by the detection of "
            "the method named."
        )
    )
    return blocks


def _results(draft: Draft, held: Sequence[LabResult]) -> Table:
    alike = _with_controls(grouped(held, lambda r: (r.method, r.quantity, _part(draft, r))))
    order = list(dict.fromkeys(method for method, _, _ in alike))
    inner = sorted(alike.items(), key=lambda held: order.index(held[0][0]))
    rows = [_row(draft, *what, some) for what, some in inner]
    columns = headed("Quantity, test", "Looked at", "Failing", "Non-failing", "Control", "Other")
    if all(words_of(row.cells[-1]) == "–" for row in rows):
        columns = columns[:-1]
        rows = [replace(row, cells=row.cells[:-1]) for row in rows]
    outside = any(outside_mark(one, draft.dossier) for one in held)
    mark = "‡ Found by an outside laboratory. " if outside else ""
    note = f"{mark}In brackets the samples."
    return Table(
        "results by side",
        "Laboratory results, failing beside sound and control",
        columns,
        tuple(rows),
        note,
        traced=True,
    )


_Part = tuple[str, str, str]


def _with_controls(alike: dict[_Part, list[LabResult]]) -> dict[_Part, list[LabResult]]:
    """Return groups with the controls that their results name, read on whatever part.

    A control's row of its own goes where all of it stands beside what it is the control of.
    """
    found: dict[_Part, list[LabResult]] = {}
    beside: set[str] = set()
    for (method, quantity, part), some in alike.items():
        named = {one.control for one in some if one.control}
        others = [
            one
            for (by, what, at), few in alike.items()
            if (by, what) == (method, quantity) and at != part
            for one in few
            if one.sample in named or one.ref in named
        ]
        beside.update(one.id for one in others)
        found[method, quantity, part] = [*some, *others]
    return {
        what: some
        for what, some in found.items()
        if not all(one.id in beside for one in alike[what])
        or not any(what != other and _holds(found[other], alike[what]) for other in found)
    }


def _holds(some: Sequence[LabResult], few: Sequence[LabResult]) -> bool:
    held = {one.id for one in some}
    return all(one.id in held for one in few)


def _part(draft: Draft, one: LabResult) -> str:
    """Return the part that was looked at; both faces of an opened plane count as one."""
    if one.face and one.face.plane:
        return draft.plane(one.face.plane, draft.dossier.area_of(one))
    return draft.face(one)


def _row(draft: Draft, method: str, quantity: str, part: str, some: Sequence[LabResult]) -> Row:
    sides = grouped(some, lambda r: stands_for(draft.dossier, sample_of(draft.dossier, r)))
    others = [one for side, few in sides.items() if side not in _SIDES for one in few]
    cells = [_found(draft, sides.get(side, ()), part) for side in _SIDES]
    what = f"{quantity_words(draft, quantity)}\n{short_title(method)}"
    last = _found(draft, others, part)
    return Row((what, part, *cells, last), tuple(one.source for one in some))


def quantity_words(draft: Draft, quantity: str) -> str:
    """Return a quantity of the laboratory in words; a coat is named by its product."""
    name, _, detail = quantity.partition(":")
    if name == "reproduction":
        found = draft.results.reasoning
        titles = {one.cause: one.title for one in found.candidates} if found else {}
        return f"{quantity_name(name)}: {titles.get(detail, spoken(detail.replace('-', ' ')))}"
    if detail.isdecimal() and draft.systems:
        coat = next((c for layers in draft.systems for c in layers if str(c.order) == detail), None)
        detail = (coat.product or spoken(coat.material)) if coat else f"coat {detail}"
    return quantity_name(f"{name}:{detail}" if detail else name)


def _found(draft: Draft, some: Sequence[LabResult], part: str) -> Text:
    groups = grouped(some, lambda r: (draft.show.outcome(r.value, r.qualifier), _part(draft, r)))
    parts: list[str | Value] = []
    for (shown, at), few in groups.items():
        if parts:
            parts.append("; ")
        name = f"{few[0].source}: value" if len(few) == 1 else ""
        parts.append(
            Value(name, shown, tuple(r.source for r in few), outside_mark(few[0], draft.dossier))
        )
        where = f", {at}" if at != part else ""
        parts.append(f"\n({', '.join(dict.fromkeys(r.sample for r in few))}{where})")
    return text(*parts) if parts else text("–")


def _deviations(held: Sequence[LabResult], asked: Sequence[LabRequest]) -> list[Block]:
    every: tuple[LabResult | LabRequest, ...] = (*held, *asked)
    told = [one for one in every if one.deviation and one.deviation.lower() != "none"]
    silent = [one for one in held if not one.deviation]
    clean = [one for one in held if one.deviation.lower() == "none"]
    blocks: list[Block] = []
    if told:
        alike = grouped(told, lambda one: one.deviation)
        said = "; ".join(f"{in_short(sources(few))}: {words}" for words, few in alike.items())
        blocks.append(
            fact("laboratory: deviations", f"Deviations from the methods: {said}.", of=told)
        )
    if clean:
        blocks.append(
            fact(
                "laboratory: no deviations",
                f"For {counted(len(clean), 'result')} of {number_word(len(held))} it is recorded "
                "that there was no deviation from the method.",
                of=clean,
            )
        )
    if silent:
        blocks.append(
            fact(
                "laboratory: silent on deviations",
                f"For {counted(len(silent), 'result')} nothing is recorded about "
                "deviations, neither that there were none.",
                of=silent,
            )
        )
    return blocks
