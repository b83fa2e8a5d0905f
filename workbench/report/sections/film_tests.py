"""Tests of the film and what lies under it: ratings, thickness, and all else that was measured."""

from collections.abc import Sequence

from workbench.analysis.limits import limits_on
from workbench.records import Coat, Limit, Measurement, Quantity, Rating, Thickness
from workbench.report.blocks import Block, Column, Figure, Heading, Row, Table, headed
from workbench.report.draft import Draft, fact
from workbench.report.figures import moisture_figures, rating_figure, thickness_figure
from workbench.report.tallies import by_condition, grouped, numbers, spread
from workbench.report.text import See, see_all
from workbench.report.wording import (
    coat_words,
    counted,
    from_to,
    listed,
    method_title,
    span,
    spoken_layer,
)
from workbench.trade.methods import method as method_of
from workbench.trade.names import quantity_name, spoken
from workbench.trade.showing import THICKNESS, in_si


def film_tests(draft: Draft) -> list[Block]:
    """Return ratings, thickness and other measurements."""
    return [*_ratings(draft), *_thickness(draft), *_measurements(draft)]


def _ratings(draft: Draft) -> list[Block]:
    ratings = draft.dossier.all(Rating)
    if not ratings:
        return []
    kinds = grouped(ratings, lambda one: (one.method.value, str(one.plane or "")))
    rows = [
        _rating_row(draft, method, condition, some)
        for (method, _face), held in kinds.items()
        for condition, some in by_condition(draft.dossier, held).items()
    ]
    columns = (
        *(Column(head) for head in ("Method", "Plane", "Condition")),
        *(Column(head, numeric=True) for head in ("Spots", "Lowest", "Median", "Highest")),
    )
    used = dict.fromkeys(one.method.value for one in ratings)
    told = "; ".join(f"{name}: {scale}" for name in used if (scale := _scale(name)))
    note = f"Scales run as their standard has them: {told}." if told else ""
    drawn = rating_figure(draft)
    caption = "Ratings by plane and condition"
    return [
        Heading(2, "Knife, tape and other ratings", "ratings"),
        fact(
            "field tests: ratings",
            f"{counted(len(ratings), 'rating').capitalize()} "
            f"{'was' if len(ratings) == 1 else 'were'} given "
            f"{span(one.date for one in ratings)}; each is in ",
            See("table ratings"),
            ". ",
            *_gathered("table ratings by plane", "figure ratings"),
        ),
        Table("ratings by plane", caption, columns, tuple(rows), note, traced=True),
        *drawn,
    ]


def _scale(method: str) -> str:
    found = method_of(method)
    return found.scale.direction if found and found.scale else ""


def _gathered(table: str, figure: str) -> tuple[str | See, ...]:
    """Return where the readings of a kind are gathered, and where they are drawn."""
    return See(table), " gathers them by condition, and ", See(figure), " draws them."


def _rating_row(draft: Draft, method: str, condition: str, some: Sequence[Rating]) -> Row:
    found = spread(one.rating.value for one in some)
    face = some[0].plane
    area = draft.dossier.area_of(some[0])
    plane = draft.plane(face.plane, area) if face and face.plane else str(face or "none opened")
    middle = (found.low, found.middle, found.high) if found else ()
    return Row(
        (method, plane, condition, str(len(some)), *(f"{value:g}" for value in middle)),
        tuple(one.source for one in some),
    )


def _thickness(draft: Draft) -> list[Block]:
    spots = draft.dossier.all(Thickness)
    if not spots:
        return []
    layers = grouped(spots, lambda one: (_system(draft, one), one.layer))
    rows = [
        _thickness_row(draft, layer, condition, some)
        for layer, held in sorted(layers.items(), key=lambda pair: pair[0], reverse=True)
        for condition, some in by_condition(draft.dossier, held).items()
    ]
    unit = draft.show.unit(THICKNESS)
    numeric = ("Spots", "Readings", f"Mean, {unit}", f"Lowest, {unit}", f"Highest, {unit}")
    columns = (
        Column("Layer"),
        Column("Condition"),
        *(Column(head, numeric=True) for head in (*numeric, f"Specified, {unit}")),
    )
    caption = "Thickness by layer and condition, beside what was specified"
    return [
        Heading(2, "Thickness of the film", "thickness"),
        fact(
            "field tests: thickness",
            f"The thickness was read at {counted(len(spots), 'spot')} "
            f"{span(one.date for one in spots)}; each is in ",
            See("table thickness"),
            ". ",
            *_gathered("table thickness by layer", "figure thickness"),
        ),
        Table("thickness by layer", caption, columns, tuple(rows), traced=True),
        *thickness_figure(draft),
    ]


def _system(draft: Draft, one: Thickness) -> str:
    layers = draft.dossier.system_of(draft.dossier.area_of(one))
    return layers[0].system if layers else ""


def _thickness_row(
    draft: Draft, key: tuple[str, str], condition: str, some: Sequence[Thickness]
) -> Row:
    system, layer = key
    coat = next((c for c in draft.dossier.system(system) if str(c.order) == layer), None)
    name = coat_words(coat) if coat else spoken_layer(layer)
    if len(draft.systems) > 1:
        name = f"{name}, system {system}"
    low = [one.readings.smallest for one in some]
    high = [one.readings.largest for one in some]
    means = [_um(one.readings.average, one.unit) for one in some]
    shown = (
        sum(means) / len(means),
        min(
            (_um(v, o.unit) for v, o in zip(low, some, strict=True) if v is not None), default=None
        ),
        max(
            (_um(v, o.unit) for v, o in zip(high, some, strict=True) if v is not None), default=None
        ),
    )
    cells = ("–" if um is None else draft.show.thickness(um, unit=False) for um in shown)
    readings = sum(one.readings.number or 0 for one in some)
    asked, limits = _specified(draft, coat, layer, some[0])
    return Row(
        (name, condition, str(len(some)), str(readings) if readings else "–", *cells, asked),
        (*(one.source for one in some), *(one.source for one in limits)),
    )


def _specified(
    draft: Draft, coat: Coat | None, layer: str, spot: Thickness
) -> tuple[str, Sequence[Limit]]:
    """Return what is asked of a layer, or of the whole film, and the limits that ask it."""
    limits: Sequence[Limit] = ()
    if coat:
        low, high, nominal = coat.dft_min, coat.dft_max, coat.dft_nominal
    elif layer == "total":
        limits = limits_on(draft.dossier, "dft_total", draft.dossier.area_of(spot))[:1]
        low, high = (limits[0].minimum, limits[0].maximum) if limits else (None, None)
        nominal = None
    else:
        return "–", limits
    least, most, middle = (
        draft.show.thickness(in_si(one, "um"), unit=False) if one else ""
        for one in (low, high, nominal)
    )
    ends = f"{least} to {most}" if least and most else ""
    ends = ends or (f"at least {least}" if least else f"at most {most}" if most else "")
    return ends or (f"nominal {middle}" if middle else "–"), limits


def _um(value: float | None, unit: str) -> float:
    return in_si(Quantity(repr(float(value or 0)), unit))


def _measurements(draft: Draft) -> list[Block]:
    held = draft.dossier.all(Measurement)
    if not held:
        return []
    drawn = moisture_figures(draft)
    alike = grouped(held, lambda m: (m.quantity, m.method, draft.face(m)))
    rows = []
    for (quantity, method, face), some in alike.items():
        conditions = grouped(some, lambda m: draft.dossier.condition_at(m.location).value)
        for condition, few in conditions.items():
            cells = (quantity_name(quantity), method_title(method), face, condition)
            told = (*cells, str(len(few)), _range(draft, few))
            rows.append(Row(told, tuple(one.source for one in few)))
    columns = headed("Quantity", "Test", "At", "Condition", "Number", "Found", numbers=("Number",))
    return [
        Heading(2, "Other measurements", "measurements"),
        fact(
            "field tests: measurements",
            f"{counted(len(held), 'other measurement').capitalize()} "
            f"{'was' if len(held) == 1 else 'were'} made {span(one.date for one in held)}; each is "
            "in ",
            See("table measurements"),
            ". ",
            *_told_where(drawn),
        ),
        Table(
            "measurements by condition",
            "Other measurements, failing beside sound",
            columns,
            tuple(rows),
            traced=True,
        ),
        *drawn,
    ]


def _told_where(drawn: Sequence[Figure]) -> tuple[str | See, ...]:
    table = See("table measurements by condition")
    if not drawn:
        return table, " gathers them by condition."
    return (
        table,
        " gathers them by condition; ",
        *see_all([f"figure {figure.key}" for figure in drawn]),
        f" {'shows' if len(drawn) == 1 else 'show'} at its place what was read over the plan.",
    )


_MOST_ONE_BY_ONE = 4


def _one_by_one(each: Sequence[str]) -> str:
    """Return a few values one by one, their unit said once; nothing where it is not the same."""
    parts = [one.rpartition(" ") for one in each]
    if not 2 < len(each) <= _MOST_ONE_BY_ONE or len({unit for _, _, unit in parts}) > 1:
        return ""
    return f"{listed([number for number, _, _ in parts])} {parts[0][2]}" if parts[0][0] else ""


def _range(draft: Draft, some: Sequence[Measurement]) -> str:
    words = grouped((one for one in some if one.value.word), lambda one: one.value.word)
    said = [f"{spoken(word)} ({len(held)})" for word, held in words.items()]
    found = spread(numbers(one.value for one in some))
    if found:
        ordered = sorted((o for o in some if o.value.quantity), key=lambda o: o.value.value or 0)
        each = [draft.show.outcome(one.value, one.qualifier) for one in ordered]
        ends = each[0] if each[0] == each[-1] else from_to(each[0], each[-1])
        said.append(_one_by_one(each) or ends)
    notes = {one.note for one in some}
    scale = f" ({notes.pop()})" if found and len(notes) == 1 and not some[0].value.unit else ""
    return "; ".join(said) + scale.replace(" ()", "")
