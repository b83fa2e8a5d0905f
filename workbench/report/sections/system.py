"""The coating system as specified, what was required, and how it was laid."""

from collections.abc import Sequence

from workbench.records import Application, Area, Coat, Limit, RecoatWindow
from workbench.records.codes import YesNo
from workbench.report.blocks import Block, Column, Heading, Row, Section, Table
from workbench.report.draft import Draft, fact, plain
from workbench.report.text import See
from workbench.report.wording import coat_words, counted, method_title, short_moment, spoken
from workbench.trade.register import register
from workbench.trade.showing import DIFFERENCE


def system(draft: Draft) -> Section:
    """Return the section on the system and its application."""
    blocks: list[Block] = [*_layers(draft), *_windows(draft), *_limits(draft), *_laid(draft)]
    if not blocks:
        blocks.append(plain("No coating system is recorded."))
    return Section("system", "Coating system and its application", tuple(blocks), short=False)


def _layers(draft: Draft) -> list[Block]:
    blocks: list[Block] = []
    for layers in draft.systems:
        name = layers[0].system
        coats = [coat for coat in layers if coat.order > 0]
        blocks.append(
            fact(
                f"system: {name}",
                f"System {name} was specified as "
                f"{counted(len(coats), 'coat')} on {_material(layers[0])}.",
                of=layers,
            )
        )
        columns = (
            Column("Layer"),
            Column("Material"),
            Column("Thickness specified"),
            Column("Mix"),
            Column("Limits while laying"),
        )
        rows = tuple(_layer(draft, coat) for coat in reversed(layers))
        note = "† As supplied in specification and data sheets; the layers from the top down."
        blocks.append(Table(f"system {name}", f"System {name} as specified†", columns, rows, note))
    return [Heading(2, "System as specified", "layers"), *blocks] if blocks else []


def _material(coat: Coat) -> str:
    material = spoken(coat.material)
    return f"{material} ({coat.product})" if coat.product else material


def _layer(draft: Draft, coat: Coat) -> Row:
    show = draft.show
    letter = draft.plane_letter(coat)
    low, high = coat.dft_min, coat.dft_max
    nominal = [show.quantity(coat.dft_nominal)] if coat.dft_nominal else []
    limits = f"({show.quantity(low)} to {show.quantity(high)})" if low and high else ""
    mix = (
        f"{coat.mix_ratio} by {coat.mix_basis.value}"
        if coat.mix_ratio and coat.mix_basis
        else (coat.mix_ratio)
    )
    existing = " (there before)" if coat.existing is YesNo.YES else ""
    name = f"{coat_words(coat)} ({letter}){existing}"
    return Row(
        (
            name,
            spoken(coat.material),
            " ".join([*nominal, limits]).strip() or "–",
            mix or "–",
            _conditions(draft, coat) or "–",
        ),
        (coat.source,),
    )


def _conditions(draft: Draft, coat: Coat) -> str:
    show = draft.show
    low, high = coat.apply_min, coat.apply_max
    said = []
    if low and high:
        said.append(f"{show.quantity(low, 'degC')} to {show.quantity(high, 'degC')}")
    if coat.humidity_max:
        said.append(f"humidity up to {show.quantity(coat.humidity_max, '%')}")
    if coat.dew_margin:
        margin = show.quantity(coat.dew_margin, "K", DIFFERENCE)
        said.append(f"surface at least {margin} above the dew point")
    if coat.pot_life:
        said.append(f"pot life {show.quantity(coat.pot_life, 'min')}")
    return "; ".join(said)


def _windows(draft: Draft) -> list[Block]:
    windows = draft.dossier.all(RecoatWindow)
    if not windows:
        return []
    rows = tuple(
        Row(
            (
                one.product,
                one.on_top or "any",
                draft.show.quantity(one.at_temperature, "degC")
                if one.at_temperature
                else "not stated",
                draft.show.quantity(one.min_interval, "h") if one.min_interval else "not known",
                _longest(draft, one),
                one.source_text or "not stated",
            ),
            (one.source,),
        )
        for one in windows
    )
    columns = (
        Column("Coat"),
        Column("Next on it"),
        Column("At", numeric=True),
        Column("Shortest", numeric=True),
        Column("Longest", numeric=True),
        Column("According to"),
    )
    return [Table("recoat windows", "Overcoating times stated for the products†", columns, rows)]


def _longest(draft: Draft, window: RecoatWindow) -> str:
    if window.max_interval is None:
        return "not known"
    if window.max_interval.quantity is None:
        return "no maximum"
    return draft.show.quantity(window.max_interval.quantity, "h")


def _limits(draft: Draft) -> list[Block]:
    limits = draft.dossier.all(Limit)
    if not limits:
        return []
    rows = tuple(
        Row(
            (
                spoken(one.quantity),
                one.applies_to or "the whole case",
                draft.show.quantity(one.minimum) if one.minimum else "–",
                draft.show.quantity(one.maximum) if one.maximum else "–",
                _method(one.method),
                "; ".join(filter(None, (one.source_text, one.note))),
            ),
            (one.source,),
        )
        for one in limits
    )
    columns = (
        Column("Quantity"),
        Column("For"),
        Column("At least", numeric=True),
        Column("At most", numeric=True),
        Column("Method"),
        Column("According to"),
    )
    return [
        Heading(2, "Requirements", "limits"),
        fact(
            "system: limits",
            "What contract and data sheets required is in ",
            See("table limits"),
            ". The report sets readings beside these values; it does not "
            "declare that the work or a product meets a standard.",
        ),
        Table("limits", "Requirements of contract and data sheets†", columns, rows),
    ]


def _method(method: str) -> str:
    if not method:
        return "not stated"
    test = register().get(method)
    return test.name if test else method_title(method)


def _laid(draft: Draft) -> list[Block]:
    laid = draft.dossier.all(Application)
    if not laid:
        return []
    return [
        Heading(2, "How the coats were laid", "laid"),
        fact(
            "system: laid",
            "The dates and times of preparation and coats are those of the "
            f"records named, {counted(len(laid), 'entry', 'entries')} in all; each stands in ",
            See("table applications"),
            ". ",
            See("table intervals"),
            " gives the time from the end of each coat to the start of the next on it.",
        ),
        _intervals(draft, laid),
    ]


def _intervals(draft: Draft, laid: Sequence[Application]) -> Table:
    rows = [row for area in draft.areas() for row in _of_area(draft, area, laid)]
    columns = (
        Column("Area"),
        Column("Condition"),
        Column("From the end of"),
        Column("To the start of"),
        Column("Time between", numeric=True),
        Column("Abraded"),
    )
    note = (
        "† From daily records supplied by others. Of several entries for one coat the first "
        "start and the last end count."
    )
    return Table(
        "intervals",
        "Time between one coat and the next, area by area†",
        columns,
        tuple(rows),
        note,
        traced=True,
    )


def _of_area(draft: Draft, area: Area, laid: Sequence[Application]) -> list[Row]:
    layers = {coat.order: coat for coat in draft.dossier.system_of(area)}
    entries: dict[int, list[Application]] = {}
    for one in laid:
        if area.ref in one.area:
            entries.setdefault(one.coat, []).append(one)
    rows = []
    for order in sorted(entries):
        if order - 1 not in entries or order == 1:
            continue
        before, after = entries[order - 1], entries[order]
        ended = max((e.end for e in before if e.end), key=lambda w: w.start(), default=None)
        begun = min((e.start for e in after if e.start), key=lambda w: w.start(), default=None)
        hours = (begun.start() - ended.start()).total_seconds() / 3600 if begun and ended else None
        abraded = {e.abraded.value for e in after if e.abraded}
        of = tuple(e.source for e in (*before, *after))
        rows.append(
            Row(
                (
                    area.ref,
                    area.condition.value,
                    f"{_coat_name(layers, order - 1)}, {short_moment(ended)}",
                    f"{_coat_name(layers, order)}, {short_moment(begun)}",
                    draft.show.hours(hours) if hours is not None else "not known",
                    " / ".join(sorted(abraded)) or "not recorded",
                ),
                of,
            )
        )
    return rows


def _coat_name(layers: dict[int, Coat], order: int) -> str:
    coat = layers.get(order)
    return coat_words(coat) if coat else f"coat {order}"
