"""Appendix: every reading, in the order of the case."""

from workbench.records import (
    Application,
    LabResult,
    Measurement,
    PullOff,
    Rating,
    SurveyEntry,
    Thickness,
    Weather,
)
from workbench.records.codes import YesNo
from workbench.report.blocks import Block, Column, Heading, Row, Section, Table
from workbench.report.draft import Draft, plain
from workbench.report.sections.laboratory import quantity_words
from workbench.report.sections.survey import found_words
from workbench.report.tallies import sample_of, stands_for
from workbench.report.text import Text, Value, text
from workbench.report.values import outside_mark
from workbench.report.wording import breaks_in_words, method_title, short_moment, spoken


def readings(draft: Draft) -> Section:
    """Return the appendix of readings."""
    parts = (
        _pull_offs,
        _lab,
        _applications,
        _survey,
        _ratings,
        _thickness,
        _measurements,
        _weather,
    )
    blocks: list[Block] = []
    for part in parts:
        blocks += part(draft)
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
    columns = (
        Column("Ref"),
        Column("Place"),
        Column("Date"),
        Column("Method"),
        Column("On, after"),
        Column("Fixture, cut, glue, cure"),
        Column("Gauge, reading"),
        Column("Stress", numeric=True),
        Column("Where it broke"),
        Column("By"),
        Column("Note"),
    )
    rows = tuple(_pull_row(draft, pull) for pull in pulls)
    note = (
        "≥: more than half the face broke in the glue, the coating held at least so much; ≤: "
        "it came away before load; the stress is scaled to the size of the fixture used."
    )
    return [
        Heading(2, "Pull-off tests", "pull-offs"),
        Table("pull-offs", "Pull-off tests", columns, rows, note, wide=True),
    ]


def _pull_row(draft: Draft, pull: PullOff) -> Row:
    show, area = draft.show, draft.dossier.area_of(pull)
    layers = draft.dossier.system_of(area)
    on = {coat.order: coat.product or spoken(coat.material) for coat in layers}
    stood = "as found" if pull.on is None else on.get(pull.on, f"coat {pull.on}")
    if pull.treatment:
        stood = (
            f"{stood}, {spoken(pull.treatment.value)}"
            if pull.on is not None
            else (f"trial, {spoken(pull.treatment.value)}")
        )
    fixture = show.quantity(pull.fixture) if pull.fixture else "size not recorded"
    cut = f"cut round: {show.outcome(pull.cut_round)}" if pull.cut_round else "cutting not recorded"
    cure = show.quantity(pull.cure, "h") if pull.cure else ""
    gauge = f" (set for {show.quantity(pull.calibrated_for)})" if pull.calibrated_for else ""
    read = (
        show.quantity(pull.reading)
        if pull.reading
        else ("came away" if pull.came_away is YesNo.YES else "not recorded")
    )
    stress = Value(f"{pull.source}: stress", draft.values.stress(pull), (pull.source,))
    return Row(
        (
            pull.ref,
            _place(draft, pull.location),
            short_moment(pull.date),
            pull.method.value,
            stood,
            ", ".join(filter(None, (fixture, cut, pull.glue, cure))),
            f"{pull.instrument}: {read}{gauge}",
            (stress,),
            breaks_in_words(pull.breaks, draft.dossier, layers, show),
            pull.operator or "not recorded",
            pull.note,
        ),
        (pull.source,),
    )


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
        form = spoken(one.form).replace("=", ": ")
        rows.append(
            Row(
                (
                    one.ref,
                    _place(draft, one.at),
                    form,
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
        plane = draft.plane(one.plane.plane, area) if one.plane and one.plane.plane else "–"
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
                spoken(one.quantity),
                _outcome(draft, one),
                _face(draft, one),
                one.operator or "not recorded",
                one.note,
            ),
            (one.source,),
        )
        for one in held
    )
    return [
        Heading(2, "Other measurements", "measurements"),
        Table("measurements", "Other measurements", columns, rows),
    ]


def _outcome(draft: Draft, one: Measurement | LabResult) -> Text:
    shown = draft.show.outcome(one.value, one.qualifier)
    return text(Value(f"{one.source}: value", shown, (one.source,), outside_mark(one)))


def _face(draft: Draft, one: Measurement | LabResult) -> str:
    face = one.plane if isinstance(one, Measurement) else one.face
    depth = one.depth if isinstance(one, Measurement) else None
    said = []
    if face and face.plane:
        side = f", side of {face.side}" if face.side else ""
        said.append(draft.plane(face.plane, draft.dossier.area_of(one)) + side)
    elif face:
        said.append(str(face))
    if depth:
        said.append(f"{draft.show.quantity(depth, 'mm')} deep")
    return ", ".join(said) or "–"


def _lab(draft: Draft) -> list[Block]:
    held = draft.dossier.all(LabResult)
    if not held:
        return []
    columns = (
        Column("Ref"),
        Column("Sample, stands for"),
        Column("Face"),
        Column("Test"),
        Column("Quantity"),
        Column("Result", numeric=True),
        Column("Uncertainty"),
        Column("Control"),
        Column("By, date"),
        Column("Deviation"),
        Column("Note"),
    )
    rows = tuple(_lab_row(draft, one) for one in held)
    note = "‡ Found by an outside laboratory."
    return [
        Heading(2, "Laboratory results", "laboratory results"),
        Table("laboratory results", "Laboratory results", columns, rows, note, wide=True),
    ]


def _lab_row(draft: Draft, one: LabResult) -> Row:
    side = stands_for(draft.dossier, sample_of(draft.dossier, one))
    uncertainty = "not stated"
    if one.uncertainty:
        factor = f", k = {one.coverage_factor}" if one.coverage_factor else ""
        uncertainty = f"± {draft.show.quantity(one.uncertainty, one.value.unit)}{factor}"
    who = ", ".join(filter(None, (one.analyst, one.laboratory))) or "not recorded"
    return Row(
        (
            one.ref,
            f"{one.sample}, {side}",
            _face(draft, one),
            method_title(one.method),
            quantity_words(draft, one.quantity),
            _outcome(draft, one),
            uncertainty,
            one.control or "–",
            f"{who}; {short_moment(one.date)}",
            one.deviation or "not recorded",
            one.note,
        ),
        (one.source,),
    )


def _applications(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Application)
    if not held:
        return []
    columns = (
        Column("Ref"),
        Column("Areas"),
        Column("Coat"),
        Column("Start"),
        Column("End"),
        Column("Batches"),
        Column("Quantities"),
        Column("Air, humidity, surface"),
        Column("Abraded, cleaned"),
        Column("According to"),
        Column("Note"),
    )
    rows = tuple(_application_row(draft, one) for one in held)
    note = "† All entries are from daily records supplied by others."
    return [
        Heading(2, "Preparation and coats as recorded", "applications"),
        Table("applications", "Preparation and coats as recorded†", columns, rows, note, wide=True),
    ]


def _application_row(draft: Draft, one: Application) -> Row:
    show = draft.show
    layers = {c.order: c for c in draft.dossier.system_of(draft.dossier.area(one.area.refs[0]))}
    coat = layers.get(one.coat)
    name = "preparation" if one.coat == 0 else (coat.product if coat else f"coat {one.coat}")
    climate = [
        show.quantity(q, unit)
        for q, unit in ((one.air, "degC"), (one.humidity, "%"), (one.surface, "degC"))
        if q
    ]
    amounts = [show.quantity(q) for q in (one.quantity_a, one.quantity_b) if q]
    yes = [v.value if v else "not recorded" for v in (one.abraded, one.cleaned)]
    batches = ", ".join(filter(None, (one.batch_a, one.batch_b)))
    quality = f" ({one.quality.value})" if one.quality else ""
    return Row(
        (
            one.ref or "–",
            ", ".join(one.area),
            name or "–",
            short_moment(one.start, "–"),
            short_moment(one.end, "–"),
            batches or "–",
            " + ".join(amounts) or "–",
            ", ".join(climate) or "not recorded",
            ", ".join(yes),
            f"{one.source_text}{quality}",
            "; ".join(filter(None, (one.method, one.note))),
        ),
        (one.source,),
    )


def _weather(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Weather)
    if not held:
        return []
    columns = (
        Column("Time"),
        Column("Areas"),
        Column("Air", numeric=True),
        Column("Humidity", numeric=True),
        Column("Surface", numeric=True),
        Column("Rain"),
        Column("On site"),
    )
    show = draft.show
    rows = tuple(
        Row(
            (
                short_moment(one.time),
                ", ".join(one.area) if one.area else "all",
                *(
                    show.quantity(q, unit) if q else "–"
                    for q, unit in ((one.air, "degC"), (one.humidity, "%"), (one.surface, "degC"))
                ),
                one.rain.value if one.rain else "–",
                one.on_site.value if one.on_site else "–",
            ),
            (one.source,),
        )
        for one in held
    )
    return [
        Heading(2, "Air and surface as recorded", "weather"),
        Table("weather", "Air and surface as recorded†", columns, rows),
    ]
