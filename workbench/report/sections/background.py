"""Background: the object, its areas and their condition, and what happened when."""

from collections.abc import Sequence

from workbench.records import Area, AreaEvent, CaseEntry
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Heading, Row, Section, Table, headed
from workbench.report.draft import Draft, fact, plain
from workbench.report.tabling import said_once
from workbench.report.tallies import grouped
from workbench.report.text import See, Value, text
from workbench.report.values import outside_mark
from workbench.report.wording import counted, listed, short_moment, typeset
from workbench.trade.names import spoken


def background(draft: Draft) -> Section:
    """Return the section on the object and its history."""
    blocks: list[Block] = [*_object(draft), *_areas(draft), *_events(draft)]
    if not blocks:
        blocks.append(plain("Nothing is recorded of the object and its history."))
    return Section("background", "Background", tuple(blocks))


def _object(draft: Draft) -> list[Block]:
    entries = [e for key in ("object", "site") if (e := draft.dossier.find(CaseEntry, key))]
    said = [e.value for e in entries if e.value]
    if not said:
        return []
    return [
        fact(
            "background: object",
            "The object is the following: ",
            typeset("; ".join(said)),
            ".",
            of=entries,
        )
    ]


def _areas(draft: Draft) -> list[Block]:
    areas = draft.areas()
    if not areas:
        return []
    by_condition = grouped(areas, lambda area: area.condition)
    said = [
        f"{counted(len(held), 'area')} {_stands(condition, len(held))}"
        for condition, held in by_condition.items()
    ]
    rows = [_area_row(draft, area) for area in areas]
    columns = headed("Ref", "Area", "Condition", "Size", "What is special", numbers=("Size",))
    return [
        Heading(2, "Areas and their condition", "areas"),
        fact(
            "background: areas",
            f"The object was divided into {counted(len(areas), 'area')}, so that failing and "
            f"sound coating could be compared: {listed(said)}. A control is a place that differs "
            "from the failing coating in one known respect. What each is stands in ",
            See("table areas"),
            f".{_overlapping(areas)}",
            of=areas,
        ),
        said_once(Table("areas", "Areas of the object and their condition", columns, tuple(rows))),
    ]


def _overlapping(areas: Sequence[Area]) -> str:
    if not any(area.within for area in areas):
        return ""
    return " An area within another is a part of it or a view of it; their counts overlap."


def _stands(condition: Condition, count: int) -> str:
    verb = "is" if count == 1 else "are"
    words = {Condition.UNKNOWN: "of unknown condition", Condition.CONTROL: "held as controls"}
    return f"{verb} {words.get(condition, condition.value)}"


def _area_row(draft: Draft, area: Area) -> Row:
    size = draft.show.quantity(area.size) if area.size else "not recorded"
    special = [_features(str(area.features)) if area.features else "", area.note]
    within = f"{area.name} (within {area.within})" if area.within else area.name
    return Row(
        (area.ref, within, area.condition.value, size, "; ".join(filter(None, special))),
        (area.source,),
    )


def _features(written: str) -> str:
    """Return the features of an area in words: "indoor, no wash line, not washed"."""
    said = []
    for part in written.split(";"):
        name, _, value = (spoken(piece.strip()) for piece in part.partition("="))
        denied = f"not {name}" if name.endswith(("ed", "door")) else f"no {name}"
        said.append({"": name, "yes": name, "no": denied}.get(value, f"{name}: {value}"))
    return ", ".join(filter(None, said))


def _events(draft: Draft) -> list[Block]:
    events = draft.dossier.all(AreaEvent)
    if not events:
        return []
    groups = grouped(
        events,
        lambda e: (e.start.text, e.event, str(e.end or ""), str(e.value or ""), e.source_text),
    )
    ordered = sorted(groups.values(), key=lambda held: held[0].start.start(draft.dossier.zone))
    rows = [_event_row(draft, held) for held in ordered]
    columns = headed("When", "What", "Areas", "According to")
    return [
        Heading(2, "What happened when", "events"),
        fact(
            "background: events",
            "Events other than the laying of coats are in ",
            See("table events"),
            "; the coats are in ",
            See("section system"),
            ".",
        ),
        Table("events", "Events in the history of the areas", columns, tuple(rows), traced=False),
    ]


def _event_row(draft: Draft, held: list[AreaEvent]) -> Row:
    first = held[0]
    when = short_moment(first.start) + (f" to {short_moment(first.end)}" if first.end else "")
    value = f", {draft.show.outcome(first.value)}" if first.value else ""
    notes = "; ".join(dict.fromkeys(e.note for e in held if e.note))
    said = f"{spoken(first.event).capitalize()}{value}{f': {notes}' if notes else ''}"
    what = text(Value("", said, tuple(e.source for e in held), outside_mark(first, draft.dossier)))
    areas = ", ".join(dict.fromkeys(e.area or "all" for e in held))
    quality = f" ({first.quality.value} record)" if first.quality else ""
    return Row(
        (when, what, areas, f"{first.source_text or 'not stated'}{quality}"),
        tuple(e.source for e in held),
    )
