"""Appendix: laboratory results, coats and climate as they were reported by others."""

from workbench.analysis.laboratory.asked import request_for
from workbench.records import Application, LabResult, Measurement, Weather, plain_unit
from workbench.report.blocks import Block, Column, Heading, Row, Table, headed
from workbench.report.draft import Draft
from workbench.report.sections.laboratory import quantity_words
from workbench.report.tallies import sample_of, stands_for
from workbench.report.text import Text, Value, text
from workbench.report.values import outside_mark
from workbench.report.wording import short_moment, short_title
from workbench.trade.showing import DIFFERENCE, TEMPERATURE, kind_of


def laboratory_results(draft: Draft) -> list[Block]:
    """Return every laboratory result."""
    held = draft.dossier.all(LabResult)
    if not held:
        return []
    heads = ("Ref", "Sample", "Stands for", "Face", "Test", "Quantity")
    after = (
        "Uncertainty", "Control, blank", "Analyst", "Laboratory", "Date", "Deviation", "Note, file",
    )  # fmt: skip
    columns = (
        *(Column(head) for head in heads),
        Column("Result", numeric=True),
        *(Column(head) for head in after),
    )
    rows = tuple(_lab_row(draft, one) for one in held)
    outside = any(outside_mark(one, draft.dossier) for one in held)
    note = "‡ Found by an outside laboratory." if outside else ""
    table = Table("laboratory results", "Laboratory results", columns, rows, note, turns=True)
    return [Heading(2, "Laboratory results", "laboratory results"), table]


def _lab_row(draft: Draft, one: LabResult) -> Row:
    uncertainty = "not stated"
    if one.uncertainty:
        factor = f", k = {one.coverage_factor}" if one.coverage_factor else ""
        kind = DIFFERENCE if kind_of(plain_unit(one.value.unit)) is TEMPERATURE else None
        shown = draft.show.quantity(one.uncertainty, one.value.unit, kind)
        uncertainty = f"± {shown}{factor}"
    cells = (
        one.ref,
        one.sample,
        stands_for(draft.dossier, sample_of(draft.dossier, one)),
        draft.face(one),
        _method(draft, one),
        quantity_words(draft, one.quantity),
        outcome_text(draft, one),
        uncertainty,
        "; ".join(filter(None, (one.control, one.blank and f"blank {one.blank}"))) or "–",
        one.analyst or "not recorded",
        one.laboratory or "not recorded",
        short_moment(one.date),
        one.deviation or "not recorded",
        "; ".join(filter(None, (one.note, one.file))),
    )
    return Row(cells, (one.source,))


def _method(draft: Draft, one: LabResult) -> str:
    """Return a method with its edition, as the request has it, and the state of the specimen."""
    asked = request_for(draft.dossier, one)
    edition = asked.edition if asked else ""
    state = one.condition.value.replace("_", " ") if one.condition else ""
    return "; ".join(filter(None, (short_title(one.method), edition, state)))


def outcome_text(draft: Draft, one: Measurement | LabResult) -> Text:
    """Return a result with its mark, live."""
    shown = draft.show.outcome(one.value, one.qualifier)
    return text(
        Value(f"{one.source}: value", shown, (one.source,), outside_mark(one, draft.dossier))
    )


def applications(draft: Draft) -> list[Block]:
    """Return every entry on preparation and coats."""
    held = draft.dossier.all(Application)
    if not held:
        return []
    columns = headed(
        "Ref",
        "Areas",
        "Coat",
        "Start",
        "End",
        "Batches",
        "Quantities",
        "Air, humidity, surface",
        "Abraded, cleaned",
        "According to",
        "Note",
    )
    rows = tuple(_application_row(draft, one) for one in held)
    note = "† All entries are from daily records supplied by others."
    return [
        Heading(2, "Preparation and coats as recorded", "applications"),
        Table(
            "applications", "Preparation and coats as recorded†", columns, rows, note, turns=True
        ),
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
            ", ".join(dict.fromkeys(yes)) if one.abraded is one.cleaned is None else ", ".join(yes),
            f"{one.source_text}{quality}",
            "; ".join(filter(None, (one.method, one.note))),
        ),
        (one.source,),
    )


def weather(draft: Draft) -> list[Block]:
    """Return every reading of air and surface."""
    held = draft.dossier.all(Weather)
    if not held:
        return []
    columns = headed(
        "Time",
        "Areas",
        "Air",
        "Humidity",
        "Surface",
        "Rain",
        "On site",
        numbers=("Air", "Humidity", "Surface"),
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
