"""Appendix: every reading, in the order of the case."""

from collections.abc import Collection

from workbench.records import Measurement, PullOff, Rating, SurveyEntry, Thickness
from workbench.records.codes import YesNo
from workbench.report.blocks import Block, Column, Heading, Row, Section, Table, headed
from workbench.report.draft import Draft, plain
from workbench.report.figures import share_figure
from workbench.report.sections.logs import (
    applications,
    laboratory_results,
    outcome_text,
    weather,
)
from workbench.report.sections.survey import found_words
from workbench.report.tabling import said_once
from workbench.report.text import Text, Value
from workbench.report.wording import (
    breaks_in_words,
    coat_words,
    method_title,
    short_moment,
    spoken_layer,
    unit_once,
)
from workbench.trade.names import form_name, quantity_name, spoken


def readings(draft: Draft) -> Section:
    """Return the appendix of readings."""
    parts = (
        _pull_offs,
        laboratory_results,
        applications,
        _survey,
        _ratings,
        _thickness,
        _measurements,
        weather,
    )
    blocks: list[Block] = [
        said_once(block) if isinstance(block, Table) else block
        for part in parts
        for block in part(draft)
    ]
    if not blocks:
        blocks.append(plain("No reading is recorded."))
    return Section("readings", "Readings", tuple(blocks), appendix=True, short=False)


def _place(draft: Draft, location: str) -> str:
    area = draft.dossier.area_at(location)
    return f"{location}, {area.ref}" if area and area.ref != location else location


def _pull_offs(draft: Draft) -> list[Block]:
    pulls = draft.dossier.all(PullOff)
    if not pulls:
        return []
    heads = ("Ref", "Place", "Date", "Method", "On, after", "Fixture", "Cut round", "Glue", "Cured",
             "Gauge", "Set for", "Read")  # fmt: skip
    columns = (
        *(Column(head) for head in heads),
        Column("Stress", numeric=True),
        Column("Where it broke"),
        Column("By"),
        Column("Note"),
    )
    rows = tuple(_pull_row(draft, pull) for pull in pulls)
    note = (
        "≥: more than half the face broke in the glue, the coating held at least so much; ≤: it "
        "came away before load; the stress is scaled to the size of the fixture used."
    )
    table = Table("pull-offs", "Pull-off tests", columns, rows, note, turns=True)
    return [Heading(2, "Pull-off tests", "pull-offs"), table, *share_figure(draft)]


def _pull_row(draft: Draft, pull: PullOff) -> Row:
    show, layers = draft.show, draft.dossier.system_of(draft.dossier.area_of(pull))
    came_away = pull.came_away is YesNo.YES
    read = (
        show.entered(pull.reading)
        if pull.reading
        else ("came away" if came_away else "not recorded")
    )
    stress = Value(f"{pull.source}: stress", draft.values.stress(pull), (pull.source,))
    cells = (
        pull.ref,
        _place(draft, pull.location),
        short_moment(pull.date),
        pull.method.value,
        _stood(draft, pull),
        show.quantity(pull.fixture) if pull.fixture else "not recorded",
        show.outcome(pull.cut_round) if pull.cut_round else "not recorded",
        pull.glue or "not recorded",
        show.quantity(pull.cure, "h") if pull.cure else "not recorded",
        pull.instrument or "not recorded",
        show.quantity(pull.calibrated_for) if pull.calibrated_for else "–",
        read,
        (stress,),
        breaks_in_words(pull.breaks, draft.dossier, layers),
        pull.operator or "not recorded",
        pull.note,
    )
    return Row(cells, (pull.source,))


def _stood(draft: Draft, pull: PullOff) -> str:
    """Return what the fixture stood on, and what was done to it before."""
    layers = {c.order: c for c in draft.dossier.system_of(draft.dossier.area_of(pull))}
    on = "" if pull.on is None else coat_words(layers.get(pull.on))
    treatment = draft.dossier.treatment_of(pull)
    treated = f"trial, {spoken(treatment.value)}" if treatment else ""
    return ", ".join(filter(None, (on, treated))) or "as found"


def _survey(draft: Draft) -> list[Block]:
    held = draft.dossier.all(SurveyEntry)
    if not held:
        return []
    columns = headed("Ref", "At", "Form or sign", "Plane", "Found", "Photograph", "Note")
    rows = []
    for one in held:
        area = draft.dossier.area_of(one)
        plane = draft.plane(one.plane, area) if one.plane else "–"
        notes = "; ".join(filter(None, (one.size, one.density, one.scale, one.note)))
        rows.append(
            Row(
                (
                    one.ref,
                    _place(draft, one.at),
                    form_name(one.form),
                    plane,
                    found_words(draft, one),
                    one.photo or "–",
                    notes,
                ),
                (one.source,),
            )
        )
    return [
        Heading(2, "Survey", "survey"),
        Table("survey entries", "Survey entries", columns, tuple(rows)),
    ]


def _ratings(draft: Draft) -> list[Block]:
    def said(one: Rating) -> tuple[str | Text, ...]:
        face, area = one.plane, draft.dossier.area_of(one)
        plane = draft.plane(face.plane, area) if face and face.plane else str(face or "none opened")
        shown = draft.show.quantity(one.rating)
        value = Value(f"{one.source}: rating", shown, (one.source,))
        return one.method.value, (value,), plane

    rows = [_read(draft, one, said(one)) for one in draft.dossier.all(Rating)]
    columns = _columns("Method", "Rating", "Plane", numbers=("Rating",))
    return _listed(Table("ratings", "Ratings", columns, tuple(rows)))


def _thickness(draft: Draft) -> list[Block]:
    def said(one: Thickness) -> tuple[str | Text, ...]:
        layers = {str(c.order): c for c in draft.dossier.system_of(draft.dossier.area_of(one))}
        coat = layers.get(one.layer)
        layer = coat_words(coat) if coat else spoken_layer(one.layer)
        shown = unit_once(draft.show.readings(one.readings, one.unit))
        value = Value(f"{one.source}: readings", shown, (one.source,))
        return spoken(one.method.value), layer, (value,)

    rows = [_read(draft, one, said(one)) for one in draft.dossier.all(Thickness)]
    columns = _columns("Method", "Layer", "Readings")
    return _listed(Table("thickness", "Thickness readings", columns, tuple(rows)))


def _measurements(draft: Draft) -> list[Block]:
    def said(one: Measurement) -> tuple[str | Text, ...]:
        test, quantity = method_title(one.method), quantity_name(one.quantity)
        return test, quantity, outcome_text(draft, one), draft.face(one)

    rows = [_read(draft, one, said(one)) for one in draft.dossier.all(Measurement)]
    columns = _columns("Test", "Quantity", "Result", "Face, depth", numbers=("Result",))
    return _listed(Table("measurements", "Other measurements", columns, tuple(rows), turns=True))


def _columns(*between: str, numbers: Collection[str] = ()) -> tuple[Column, ...]:
    """Return the columns of readings at a place: what, where and when, then by whom."""
    return headed("Ref", "Place", "Date", *between, "By", "Note", numbers=numbers)


def _read(
    draft: Draft, one: Rating | Thickness | Measurement, between: tuple[str | Text, ...]
) -> Row:
    place, when = _place(draft, one.location), short_moment(one.date)
    cells = (one.ref, place, when, *between, one.operator or "not recorded", one.note)
    return Row(cells, (one.source,))


def _listed(table: Table) -> list[Block]:
    """Return a table under a heading of its own, nothing where it has no row."""
    return [Heading(2, table.caption, table.key), table] if table.rows else []
