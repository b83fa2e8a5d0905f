"""Appendix: every reading, in the order of the case."""

from workbench.records import Measurement, PullOff, Rating, SurveyEntry, Thickness
from workbench.records.codes import YesNo
from workbench.report.blocks import Block, Column, Heading, Row, Section, Table
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
from workbench.report.text import Value
from workbench.report.wording import breaks_in_words, coat_words, method_title, short_moment
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
    table = Table("pull-offs", "Pull-off tests", columns, rows, note, wide=True)
    return [Heading(2, "Pull-off tests", "pull-offs"), table, *share_figure(draft)]


def _pull_row(draft: Draft, pull: PullOff) -> Row:
    show, layers = draft.show, draft.dossier.system_of(draft.dossier.area_of(pull))
    came_away = pull.came_away is YesNo.YES
    read = (
        show.quantity(pull.reading)
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
    treated = f"trial, {spoken(pull.treatment.value)}" if pull.treatment else ""
    return ", ".join(filter(None, (on, treated))) or "as found"


def _survey(draft: Draft) -> list[Block]:
    held = draft.dossier.all(SurveyEntry)
    if not held:
        return []
    columns = (
        Column("Ref"),
        Column("At"),
        Column("Form or sign"),
        Column("Plane"),
        Column("Found"),
        Column("Photograph"),
        Column("Note"),
    )
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
    held = draft.dossier.all(Rating)
    if not held:
        return []
    columns = (
        Column("Ref"),
        Column("Place"),
        Column("Date"),
        Column("Method"),
        Column("Rating", numeric=True),
        Column("Plane"),
        Column("By"),
        Column("Note"),
    )
    rows = []
    for one in held:
        area = draft.dossier.area_of(one)
        face = one.plane
        plane = draft.plane(face.plane, area) if face and face.plane else str(face or "none opened")
        value = Value(f"{one.source}: rating", draft.show.quantity(one.rating), (one.source,))
        rows.append(
            Row(
                (
                    one.ref,
                    _place(draft, one.location),
                    short_moment(one.date),
                    one.method.value,
                    (value,),
                    plane,
                    one.operator or "not recorded",
                    one.note,
                ),
                (one.source,),
            )
        )
    return [Heading(2, "Ratings", "ratings"), Table("ratings", "Ratings", columns, tuple(rows))]


def _thickness(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Thickness)
    if not held:
        return []
    columns = (
        Column("Ref"),
        Column("Place"),
        Column("Date"),
        Column("Method"),
        Column("Layer"),
        Column("Readings"),
        Column("By"),
        Column("Note"),
    )
    rows = []
    for one in held:
        layers = {str(c.order): c for c in draft.dossier.system_of(draft.dossier.area_of(one))}
        coat = layers.get(one.layer)
        layer = (
            (coat.product or spoken(coat.material))
            if coat
            else ("all coats" if one.layer == "total" else f"coat {one.layer}")
        )
        value = Value(
            f"{one.source}: readings", draft.show.readings(one.readings, one.unit), (one.source,)
        )
        rows.append(
            Row(
                (
                    one.ref,
                    _place(draft, one.location),
                    short_moment(one.date),
                    spoken(one.method.value),
                    layer,
                    (value,),
                    one.operator or "not recorded",
                    one.note,
                ),
                (one.source,),
            )
        )
    return [
        Heading(2, "Thickness", "thickness"),
        Table("thickness", "Thickness readings", columns, tuple(rows)),
    ]


def _measurements(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Measurement)
    if not held:
        return []
    columns = (
        Column("Ref"),
        Column("Place"),
        Column("Date"),
        Column("Test"),
        Column("Quantity"),
        Column("Result", numeric=True),
        Column("Face, depth"),
        Column("By"),
        Column("Note"),
    )
    rows = tuple(
        Row(
            (
                one.ref,
                _place(draft, one.location),
                short_moment(one.date),
                method_title(one.method),
                quantity_name(one.quantity),
                outcome_text(draft, one),
                draft.face(one),
                one.operator or "not recorded",
                one.note,
            ),
            (one.source,),
        )
        for one in held
    )
    return [
        Heading(2, "Other measurements", "measurements"),
        Table("measurements", "Other measurements", columns, rows, wide=True),
    ]
