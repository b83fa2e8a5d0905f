"""The choices of a case where sources disagree or name no number, each with its source.

A case keeps its own choice as a case entry, `setting NAME`, so that it is journalled like
everything else. What is not chosen is the default.
"""

import math
import tomllib
from dataclasses import dataclass, fields
from enum import StrEnum
from functools import cache
from typing import Any

from workbench.records import CaseEntry, Dossier, Problem, Quantity
from workbench.resources import resource
from workbench.trade.basis import Basis, Status
from workbench.trade.bond_acceptance import FloorBond
from workbench.trade.concrete_moisture import Drying, EmissionRule
from workbench.trade.concrete_strength import TensionRule
from workbench.trade.dew_point import WetBulb
from workbench.trade.holidays import HolidayRule
from workbench.trade.salts import SaltFactor
from workbench.trade.scales import Boundary
from workbench.trade.showing import DIFFERENCE, Showing, unit_sign
from workbench.trade.thickness import WedgeRule

Value = float | int | StrEnum
_KEY, _METHOD = "setting ", "method "


class DecisionRule(StrEnum):
    """How a result beside its limit becomes a pass or a fail.

    References:
        Simple acceptance and guard bands: ISO/IEC Guide 98-4, ILAC-G8 (from memory). A statement
        of conformity needs a rule: ISO/IEC 17025, 7.8.6 (READ).
    """

    NOT_CHOSEN = "not chosen"
    SIMPLE = "simple"
    GUARD_BAND = "guard band"
    AS_SPECIFIED = "as specified"


class ProfileEdition(StrEnum):
    """Which set of concrete surface profiles a rating names."""

    TEN = "2013, ten profiles"
    NINE = "2003 and earlier, nine profiles"


@dataclass(frozen=True, slots=True)
class Other:
    """What another source says instead."""

    value: str
    basis: Basis


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """All choices of a case, with their defaults; `choices` says what each asks and why."""

    # pull-off
    glue_limit_percent: float = 50.0
    smallest_readable_mpa: float = 0.2
    glue_cure_h: float = 24.0
    thick_film_um: float = 500.0
    rate_ratio: float = 5.0
    tension_rule: TensionRule = TensionRule.DIRECT
    floor_bond: FloorBond = FloorBond.STANDARD

    # ratings
    tape_boundary: Boundary = Boundary.WORSE
    tape_dwell_s: float = 60.0
    profile_edition: ProfileEdition = ProfileEdition.TEN

    # thickness
    spot_level_metal: int = 3
    spot_level_concrete: int = 3
    profile_correction_um: float = 25.0
    wedge_rule: WedgeRule = WedgeRule.DIVIDE

    # air and dew point
    dew_margin_k: float = 3.0
    humidity_max_percent: float = 85.0
    wet_bulb: WetBulb = WetBulb.PSYCHROMETER
    altitude_m: float = 0.0
    doubling_k: float = 10.0
    mix_tolerance_percent: float = 5.0
    surface_wet_h: float = 24.0
    poor_date_d: float = 2.0

    # moisture and salts
    emission_rule: EmissionRule = EmissionRule.DISH_DEDUCTED
    emission_air_max_c: float = 29.4
    slab_wait_h: float = 24.0
    slab_drying: Drying = Drying.ONE_SIDE
    sheet_test_h: float = 16.0
    salt_factor: SaltFactor = SaltFactor.MIXED
    salt_per_kelvin: float = 0.02

    # holidays and conformity
    holiday_rule: HolidayRule = HolidayRule.TWO_RANGES
    decision_rule: DecisionRule = DecisionRule.NOT_CHOSEN

    asked: tuple[tuple[str, float], ...] = ()
    """Bounds of methods that the case has in the place of the method's own: "ASTM D7234 rate
    most" and its number, from entries `method ASTM D7234 rate most`."""

    def bound(self, method: str, condition: str, side: str) -> float | None:
        """Return the bound that the case has in the place of a method's own; None for none."""
        return dict(self.asked).get(f"{method} {condition} {side}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One choice as it stands in a case.

    Attributes:
        key: Key of the case entry that keeps it.
        name: Its name.
        asks: The question in words.
        unit: Unit of the number; empty for a word.
        value: What holds.
        default: What holds where nothing is chosen.
        basis: Source of the default.
        others: What other sources say.
        signed: Whether the number may lie below zero.
    """

    key: str
    name: str
    asks: str
    unit: str
    value: Value
    default: Value
    basis: Basis
    others: tuple[Other, ...] = ()
    signed: bool = False

    @property
    def permitted(self) -> tuple[str, ...]:
        """The words it may be; empty for a number."""
        return tuple(type(self.default)) if isinstance(self.default, StrEnum) else ()

    @property
    def right(self) -> str:
        """What it may be, in words."""
        if self.permitted:
            return "one of: " + "; ".join(self.permitted)
        return "a whole number" if isinstance(self.default, int) else _A_NUMBER

    @property
    def departs(self) -> bool:
        """Whether the case has chosen otherwise than usual."""
        return self.value != self.default

    @property
    def others_in_words(self) -> str:
        """What other sources say: "25 %: ASTM D7234 (from memory)"; empty where none is known."""
        unit = f" {unit_sign(self.unit)}" if self.unit else ""
        return "; ".join(f"{other.value}{unit}: {other.basis}" for other in self.others)

    def words(self, value: Value, showing: Showing) -> str:
        """Return a value of it as a person reads it: "3 °C", "guard band"."""
        if isinstance(value, StrEnum):
            return str(value)
        kind = DIFFERENCE if self.unit == "K" else None
        return showing.quantity(Quantity(f"{round(value, 3):g}", self.unit), kind=kind)

    def read(self, text: str) -> Value:
        """Return the value that a text chooses.

        Raises:
            ValueError: It cannot be chosen; `right` says what can.
        """
        if isinstance(self.default, StrEnum):
            return type(self.default)(text.strip())
        if isinstance(self.default, int):
            return int(text.strip())
        return _finite(text) if self.signed else _number(text)


def choices(settings: Settings) -> tuple[Choice, ...]:
    """Return every setting with its question, its value and its default, in order."""
    asked = _questions()
    return tuple(
        Choice(
            key=_KEY + one.name,
            name=one.name,
            asks=asked[one.name]["asks"],
            unit=asked[one.name].get("unit", ""),
            value=getattr(settings, one.name),
            default=getattr(_DEFAULT, one.name),
            basis=_basis(asked[one.name]),
            others=tuple(Other(o["value"], _basis(o)) for o in asked[one.name].get("others", ())),
        )
        for one in fields(Settings)
        if one.name != "asked"
    )


@cache
def _questions() -> dict[str, Any]:
    with resource("settings.toml").open("rb") as file:
        return tomllib.load(file)


def _basis(said: dict[str, str]) -> Basis:
    return Basis(said.get("source", ""), Status(said["status"]))


def settings_of(dossier: Dossier) -> Settings:
    """Return the settings of a case: what its entries choose, and the defaults."""
    return _read(dossier)[0]


def settings_problems(dossier: Dossier) -> tuple[Problem, ...]:
    """Return the entries that name no setting or choose what it cannot be; the default holds."""
    return _read(dossier)[1]


def _read(dossier: Dossier) -> tuple[Settings, tuple[Problem, ...]]:
    known = {one.key: one for one in choices(_DEFAULT)}
    chosen: dict[str, Any] = {}
    asked: list[tuple[str, float]] = []
    problems = []
    for entry in dossier.all(CaseEntry):
        try:
            if entry.key.startswith(_METHOD):
                asked.append((entry.key.removeprefix(_METHOD), _number(entry.value)))
            elif entry.key.startswith(_KEY):
                choice = known[entry.key]
                chosen[choice.name] = choice.read(entry.value)
        except KeyError:
            right = ", ".join(one.name for one in known.values())
            problems.append(Problem("case", entry.key, "no such setting", f"one of {right}"))
        except ValueError:
            right = known[entry.key].right if entry.key in known else _A_NUMBER
            wrong = f"“{entry.value}” cannot be chosen"
            problems.append(Problem("case", entry.key, wrong, right))
    return Settings(**chosen, asked=tuple(asked)), tuple(problems)


def _number(text: str) -> float:
    number = _finite(text)
    if number < 0:
        raise ValueError(f"“{text}” is no number from 0 up")
    return number


def _finite(text: str) -> float:
    number = float(text.strip())
    if not math.isfinite(number):
        raise ValueError(f"“{text}” is no number")
    return number


_A_NUMBER = "a number, without its unit"
_DEFAULT = Settings()
