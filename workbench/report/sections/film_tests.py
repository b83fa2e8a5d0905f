"""Tests of the film and what lies under it: ratings, thickness, and all else that was measured."""

from collections.abc import Sequence

from workbench.records import Measurement, Quantity, Rating, Thickness
from workbench.report.blocks import Block, Column, Heading, Row, Table
from workbench.report.draft import Draft, fact
from workbench.report.figures import moisture_figure, rating_figure, thickness_figure
from workbench.report.tallies import by_area, grouped, numbers, spread
from workbench.report.text import See
from workbench.report.wording import counted, method_title, span, spoken
from workbench.trade.showing import THICKNESS, in_si


def film_tests(draft: Draft) -> list[Block]:
    """Return ratings, thickness and other measurements."""
    return [*_ratings(draft), *_thickness(draft), *_measurements(draft)]


def _ratings(draft: Draft) -> list[Block]:
    ratings = draft.dossier.all(Rating)
    if not ratings:
        return []
    rows = []
    for ref, held in by_area(draft.dossier, ratings).items():
        kinds = grouped(held, lambda one: (one.method.value, str(one.plane or "")))
        for (method, _face), some in kinds.items():
            rows.append(_rating_row(draft, ref, method, some))
    columns = (
        Column("Area"),
        Column("Condition"),
        Column("Method"),
        Column("Plane"),
        Column("Spots", numeric=True),
        Column("Lowest", numeric=True),
        Column("Median", numeric=True),
        Column("Highest", numeric=True),
    )
    note = (
        "Scales run as their standard has them: ASTM D6677 from 0 to 10 and ASTM D3359 from 0 "
        "to 5, the highest best; ISO 2409 the other way, 0 best."
    )
    return [
        Heading(2, "Knife, tape and other ratings", "ratings"),
        fact(
            "field tests: ratings",
            f"{counted(len(ratings), 'rating').capitalize()} were given "
            f"{span(one.date for one in ratings)}; each is in ",
            See("table ratings"),
            ".",
        ),
        Table(
            "ratings by area", "Ratings by area and plane", columns, tuple(rows), note, traced=True
        ),
        *rating_figure(draft),
    ]


def _rating_row(draft: Draft, ref: str, method: str, some: Sequence[Rating]) -> Row:
    area = draft.dossier.area(ref)
    found = spread(one.rating.value for one in some)
    face = some[0].plane
    plane = draft.plane(face.plane, area) if face and face.plane else (str(face) if face else "–")
    cells = (
        [f"{value:g}" for value in (found.low, found.middle, found.high)] if found else ["–"] * 3
    )
    return Row(
        (
            ref or "–",
            area.condition.value if area else "unknown",
            method,
            plane,
            str(len(some)),
            *cells,
        ),
        tuple(one.source for one in some),
    )


def _thickness(draft: Draft) -> list[Block]:
    spots = draft.dossier.all(Thickness)
    if not spots:
        return []
    rows = []
    for ref, held in by_area(draft.dossier, spots).items():
        for layer, some in sorted(grouped(held, lambda one: one.layer).items()):
            rows.append(_thickness_row(draft, ref, layer, some))
    unit = draft.show.unit(THICKNESS)
    columns = (
        Column("Area"),
        Column("Condition"),
        Column("Layer"),
        Column("Spots", numeric=True),
        Column("Readings", numeric=True),
        Column(f"Mean, {unit}", numeric=True),
        Column(f"Lowest, {unit}", numeric=True),
        Column(f"Highest, {unit}", numeric=True),
        Column("Specified", numeric=True),
    )
    return [
        Heading(2, "Thickness of the film", "thickness"),
        fact(
            "field tests: thickness",
            f"The thickness was read at {counted(len(spots), 'spot')} "
            f"{span(one.date for one in spots)}; each is in ",
            See("table thickness"),
            ".",
        ),
        Table(
            "thickness by area",
            "Thickness by area and layer, beside what was specified",
            columns,
            tuple(rows),
            traced=True,
        ),
        *thickness_figure(draft),
    ]


def _thickness_row(draft: Draft, ref: str, layer: str, some: Sequence[Thickness]) -> Row:
    area = draft.dossier.area(ref)
    coat = next((c for c in draft.dossier.system_of(area) if str(c.order) == layer), None)
    name = (
        (coat.product or spoken(coat.material))
        if coat
        else ("all coats" if layer == "total" else f"coat {layer}")
    )
    means = [_um(one.readings.average, one.unit) for one in some]
    lows = [
        _um(one.readings.smallest, one.unit) for one in some if one.readings.smallest is not None
    ]
    highs = [
        _um(one.readings.largest, one.unit) for one in some if one.readings.largest is not None
    ]
    shown = [sum(means) / len(means), min(lows, default=None), max(highs, default=None)]
    cells = ["–" if um is None else draft.show.thickness(um, unit=False) for um in shown]
    readings = sum(one.readings.number or 0 for one in some)
    specified = "–"
    if coat and coat.dft_min and coat.dft_max:
        low, high = (in_si(q, "um") for q in (coat.dft_min, coat.dft_max))
        specified = (
            f"{draft.show.thickness(low, unit=False)} to {draft.show.thickness(high, unit=False)}"
        )
    return Row(
        (
            ref or "–",
            area.condition.value if area else "unknown",
            name,
            str(len(some)),
            str(readings) if readings else "–",
            *cells,
            specified,
        ),
        tuple(one.source for one in some),
    )


def _um(value: float | None, unit: str) -> float:
    return in_si(Quantity(repr(float(value or 0)), unit))


def _measurements(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Measurement)
    if not held:
        return []
    rows = []
    for (quantity, method), some in grouped(held, lambda m: (m.quantity, m.method)).items():
        conditions = grouped(some, lambda m: draft.dossier.condition_at(m.location).value)
        for condition, few in conditions.items():
            rows.append(
                Row(
                    (
                        _quantity(quantity),
                        method_title(method),
                        condition,
                        str(len(few)),
                        _range(draft, few),
                    ),
                    tuple(one.source for one in few),
                )
            )
    columns = (
        Column("Quantity"),
        Column("Test"),
        Column("Condition"),
        Column("Number", numeric=True),
        Column("Found"),
    )
    return [
        Heading(2, "Other measurements", "measurements"),
        fact(
            "field tests: measurements",
            f"{counted(len(held), 'other measurement').capitalize()} "
            f"were made {span(one.date for one in held)}; each is in ",
            See("table measurements"),
            ".",
        ),
        Table(
            "measurements by condition",
            "Other measurements, failing beside sound",
            columns,
            tuple(rows),
            traced=True,
        ),
        *moisture_figure(draft),
    ]


def _quantity(quantity: str) -> str:
    return spoken(quantity).replace(":", ": ").replace("ph ", "pH ").replace("rh ", "humidity ")


def _range(draft: Draft, some: Sequence[Measurement]) -> str:
    words = grouped((one for one in some if one.value.word), lambda one: one.value.word)
    said = [f"{spoken(word)} ({len(held)})" for word, held in words.items()]
    found = spread(numbers(one.value for one in some))
    if found:
        ordered = sorted((o for o in some if o.value.quantity), key=lambda o: o.value.value or 0)
        ends = [draft.show.outcome(o.value, o.qualifier) for o in (ordered[0], ordered[-1])]
        said.append(ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}")
    return "; ".join(said)
