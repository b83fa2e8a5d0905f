"""Glass transitions reckoned from composition or cure, beside what was read on the sample."""

from dataclasses import dataclass

from workbench.analysis.thermal.mixing import conversion_from_tg, dibenedetto, fox
from workbench.records import Dossier, LabResult, MixingRule, Quantity, Source, TgEstimate
from workbench.trade.units import UnitError, in_unit


@dataclass(frozen=True, slots=True)
class Estimated:
    """What a rule makes of known values.

    Attributes:
        record: The record.
        value: Glass transition in degC, or degree of cure as a fraction.
        is_cure: Whether `value` is a degree of cure.
        read: Glass transitions of the sample as reported, in degC, with their results.
        formula: The rule as printed.
    """

    record: TgEstimate
    value: float
    is_cure: bool
    read: tuple[tuple[float, Source], ...]
    formula: str


_FORMULAS = {
    MixingRule.FOX: (
        "1/Tg is the sum of w/Tg over the parts, w the share by mass, Tg in kelvin; one phase only"
    ),
    MixingRule.DIBENEDETTO: (
        "(Tg − Tg0)/(Tg1 − Tg0) = λ a/(1 − (1 − λ) a); a the degree of cure, Tg0 uncured, "
        "Tg1 fully cured, λ fitted to the material"
    ),
    MixingRule.CURE_FROM_TG: (
        "a = (Tg − Tg0)/(λ (Tg1 − Tg0) + (1 − λ)(Tg − Tg0)); a the degree of cure, Tg0 uncured, "
        "Tg1 fully cured, λ fitted to the material"
    ),
}


def estimates_of(dossier: Dossier) -> tuple[tuple[Estimated, ...], tuple[str, ...]]:
    """Return every estimate of a case, and what could not be reckoned, as sentences."""
    found, problems = [], []
    for record in dossier.all(TgEstimate):
        try:
            value = estimate(record)
        except (ValueError, UnitError) as wrong:
            problems.append(f"{record.ref}: {wrong}")
            continue
        cure = record.rule is MixingRule.CURE_FROM_TG
        read = _read(dossier, record)
        found.append(Estimated(record, value, cure, read, _FORMULAS[record.rule]))
    return tuple(found), tuple(problems)


def estimate(record: TgEstimate) -> float:
    """Return a glass transition in degC, or a degree of cure as a fraction.

    Raises:
        ValueError: A value is missing or out of its range.
        UnitError: A unit is not of its kind.
    """
    if record.rule is MixingRule.FOX:
        shares = tuple(part / 100 for part in _numbers(record.shares, "shares %"))
        return fox(shares, _numbers(record.transitions, "Tg of each"))
    uncured, cured = _celsius(record.uncured), _celsius(record.cured)
    bend = record.interaction.value if record.interaction else 0.0
    if record.rule is MixingRule.DIBENEDETTO:
        if record.conversion is None:
            raise ValueError("no degree of cure")
        part = in_unit(record.conversion, "%", "%") / 100
        return dibenedetto(part, uncured_c=uncured, cured_c=cured, interaction=bend)
    return conversion_from_tg(
        _celsius(record.read), uncured_c=uncured, cured_c=cured, interaction=bend
    )


def _numbers(text: str, name: str) -> tuple[float, ...]:
    try:
        return tuple(float(part) for part in text.split(";") if part.strip())
    except ValueError:
        raise ValueError(f"{name}: “{text}” are no numbers with “;” between") from None


def _celsius(value: Quantity | None) -> float:
    if value is None:
        raise ValueError("a glass transition is missing")
    return in_unit(value, "degC", "degC")


def _read(dossier: Dossier, record: TgEstimate) -> tuple[tuple[float, Source], ...]:
    """Return what was reported of the same sample and face."""
    found = []
    for one in dossier.all(LabResult):
        mine = one.sample == record.sample and record.face in (None, one.face)
        if one.quantity in ("tg_first", "tg_second") and mine and one.value.quantity:
            try:
                found.append((in_unit(one.value.quantity, "degC", "degC"), one.source))
            except UnitError:
                continue
    return tuple(found)
