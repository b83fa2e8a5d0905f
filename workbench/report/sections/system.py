"""The coating system as specified, what was required, and how it was laid."""

from collections import Counter
from collections.abc import Sequence

from workbench.analysis.application.results import Aspect, Check, Verdict
from workbench.records import Application, Coat, Limit, RecoatWindow, Source
from workbench.records.codes import Quality, YesNo
from workbench.report.blocks import Block, Heading, Row, Section, Table, headed
from workbench.report.draft import Draft, fact, plain
from workbench.report.figures import timeline_figure
from workbench.report.tabling import said_once
from workbench.report.text import See
from workbench.report.wording import coat_words, counted, from_to, method_title, number_word
from workbench.trade.names import quantity_name, spoken
from workbench.trade.register import register
from workbench.trade.settings import settings_of
from workbench.trade.showing import DIFFERENCE, HOURS


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
                f"{counted(len(coats), 'coat')} on {_material(layers[0])}: ",
                See(f"table system {name}"),
                ".",
                of=layers,
            )
        )
        columns = headed("Layer", "Material", "Thickness specified", "Mix", "Limits while laying")
        rows = tuple(_layer(draft, coat) for coat in reversed(layers))
        note = "† As supplied in specification and data sheets; the layers from the top down."
        caption = f"System {name} as specified†"
        blocks.append(said_once(Table(f"system {name}", caption, columns, rows, note)))
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
    columns = headed(
        "Coat",
        "Next on it",
        "At",
        "Shortest",
        "Longest",
        "According to",
        numbers=("At", "Shortest", "Longest"),
    )
    return [
        fact(
            "system: recoat windows",
            "How long to wait before the next coat, and how long at most, is in ",
            See("table recoat windows"),
            ".",
        ),
        Table("recoat windows", "Overcoating times stated for the products†", columns, rows),
    ]


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
                quantity_name(one.quantity),
                _applies_to(draft, one),
                draft.show.quantity(one.minimum) if one.minimum else "–",
                draft.show.quantity(one.maximum) if one.maximum else "–",
                _method(one.method),
                "; ".join(filter(None, (one.source_text, one.note))),
            ),
            (one.source,),
        )
        for one in limits
    )
    columns = headed(
        "Quantity",
        "For",
        "At least",
        "At most",
        "Method",
        "According to",
        numbers=("At least", "At most"),
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


def _applies_to(draft: Draft, limit: Limit) -> str:
    """Return what a limit holds for, a layer by its name: "Slab of FC-3" for "FC-3:0"."""
    told = limit.applies_to
    system, _, order = told.partition(":")
    layer = next((c for c in draft.dossier.system(system) if str(c.order) == order), None)
    held = f"{coat_words(layer)} of {system}" if layer else told or "the whole case"
    at = limit.at_temperature
    return f"{held}, at {draft.show.quantity(at, 'degC')}" if at else held


def _method(method: str) -> str:
    if not method:
        return "not stated"
    test = register().get(method)
    return test.name if test else method_title(method)


def _laid(draft: Draft) -> list[Block]:
    laid = draft.dossier.all(Application)
    if not laid:
        return []
    drawn = timeline_figure(draft)
    return [
        Heading(2, "How the coats were laid", "laid"),
        fact(
            "system: laid",
            "The dates, times and conditions of preparation and coats are those of the records "
            f"named, {counted(len(laid), 'entry', 'entries')} in all; each stands in ",
            See("table applications"),
            *(".",) if not drawn else ("; ", See("figure timeline"), " shows them by the day."),
        ),
        *_checks(draft),
        *drawn,
    ]


def _checks(draft: Draft) -> list[Block]:
    found = draft.results.application
    if found is None or not found.checks:
        return []
    count = Counter(one.verdict for one in found.checks)
    intervals = [one for one in found.checks if one.aspect is Aspect.RECOAT]
    beyond = [
        one for v in (Verdict.OUTSIDE, Verdict.OPEN) for one in found.checks if one.verdict is v
    ]
    others = [one for one in beyond if one.aspect is not Aspect.RECOAT]
    timed = [See("table intervals"), f" has the time between coats, {_beyond(intervals)}. "]
    told = [
        See("table deviations"),
        f" lists {'what else' if intervals else 'what'} lies outside or is left open. ",
    ]
    blocks: list[Block] = [
        fact(
            "system: checks",
            "Contract, data sheets and common practice limit "
            f"{counted(len(found.checks), 'value')} of the log; {_where(count)}. ",
            _blanks(len(found.gaps)),
            *(timed if intervals else ()),
            *(told if others else ()),
            of_sources=_behind(found.checks),
        ),
    ]
    if intervals:
        blocks.append(_intervals(draft, intervals))
    if others:
        blocks.append(_deviations(draft, others, "Other values" if intervals else "Values"))
    return blocks


def _where(count: Counter[Verdict]) -> str:
    """Return how many values lie where: "159 lie inside the limits and six outside"."""
    inside, outside = count[Verdict.INSIDE], count[Verdict.OUTSIDE]
    left_open = count[Verdict.OPEN]
    if inside and not outside and not left_open:
        return "it lies inside its limits" if inside == 1 else "all lie inside their limits"
    verb = "lies" if inside == 1 else "lie"
    said = f"of these {_word(inside)} {verb} inside the limits and {_word(outside)} outside"
    if left_open:
        said += f"; {_word(left_open)} {'is' if left_open == 1 else 'are'} left open by the records"
    return said


def _word(count: int) -> str:
    return number_word(count) if count else "none"


def _beyond(intervals: Sequence[Check]) -> str:
    count = Counter(one.verdict for one in intervals)
    outside, left_open = count[Verdict.OUTSIDE], count[Verdict.OPEN]
    said = f"{number_word(outside)} of {number_word(len(intervals))} outside" if outside else ""
    if left_open:
        return f"{said or 'none outside'} and {number_word(left_open)} left open by the records"
    return said or "none of them outside"


def _blanks(count: int) -> str:
    """Return how many could not be checked, and that nothing follows from it."""
    if not count:
        return ""
    could = f"{counted(count, 'value').capitalize()} could not be checked because an entry is blank"
    return f"{could}; a blank speaks neither for nor against anyone. "


def _off(draft: Draft, checks: Sequence[Check]) -> str:
    """Return how far the dates of a poor record are taken to be off."""
    days = settings_of(draft.dossier).poor_date_d
    if not days or not any(one.quality is Quality.POOR for one in checks):
        return ""
    return (
        f" Dates of a poor record are taken to be off by up to {days:g} d either way, a setting of "
        "the case (no source)."
    )


def _behind(checks: Sequence[Check]) -> tuple[Source, ...]:
    return tuple(dict.fromkeys(source for one in checks for source in one.sources))


def _intervals(draft: Draft, checks: Sequence[Check]) -> Table:
    """Return how long each coat waited for the next, beside what was asked for."""

    def hours(value: float | None, near: float | None) -> str:
        return "–" if value is None else draft.show.value(HOURS, value, apart_from=near)

    rows = tuple(
        Row(
            (
                one.area,
                draft.dossier.condition_at(one.area).value,
                one.words.partition(": ")[0] if one.low is not None else one.coat,
                _span(draft, one),
                hours(one.least, one.low),
                hours(one.most, one.high),
                one.verdict.value,
            ),
            one.sources,
        )
        for one in checks
    )
    numbers = ("Waited", "At least", "At most")
    columns = headed(
        "Area", "Condition", "From one coat to the next", *numbers, "Where it lies", numbers=numbers
    )
    limits = "; ".join(dict.fromkeys(one.limit_source for one in checks if one.limit_source))
    note = f"{f'† Limits according to {limits}.' if limits else ''}{_off(draft, checks)}"
    caption = "Time between one coat and the next, with the limits at the temperature that was†"
    return Table("intervals", caption, columns, rows, note, traced=True)


def _span(draft: Draft, one: Check) -> str:
    """Return how long a coat waited, as precisely as it was recorded."""
    if one.low is None or one.high is None:
        return "not known"
    near = one.most if one.most is not None else one.least
    low, high = (draft.show.value(HOURS, at, apart_from=near) for at in (one.low, one.high))
    return low if low == high else from_to(low, high)


def _deviations(draft: Draft, checks: Sequence[Check], values: str) -> Table:
    heads = (
        "Area", "Condition", "What", "Found, and what is asked for", "According to",
        "Where it lies",
    )  # fmt: skip
    rows = tuple(
        Row(
            (
                one.area,
                draft.dossier.condition_at(one.area).value,
                one.aspect.value,
                one.words,
                f"{one.limit_source} ({one.quality.value} record)",
                one.verdict.value,
            ),
            one.sources,
        )
        for one in checks
    )
    caption = f"{values} outside what contract and data sheets ask for, or left open†"
    return said_once(Table("deviations", caption, headed(*heads), rows, traced=True))
