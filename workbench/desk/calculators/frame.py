"""What a calculator is: typed inputs with units, the formula, its source, and named results."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from workbench.records import KnownError, NotUnderstoodError, Quantity
from workbench.trade.basis import Basis
from workbench.trade.settings import Settings
from workbench.trade.showing import (
    AREA,
    DAYS,
    DENSITY,
    FORCE,
    HOURS,
    MINUTES,
    SECONDS,
    SIZE,
    STRESS,
    TEMPERATURE,
    THICKNESS,
    VOLUME,
    Kind,
    Showing,
    System,
    unit_sign,
)
from workbench.trade.units import UnitError, difference_in, in_unit


class CalculatorError(KnownError):
    """An input that a calculator cannot take, with what would be right."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One input of a calculator.

    Attributes:
        name: What it is called in a command.
        label: What it is called before a person.
        kind: Kind of quantity; None where it takes words or a text.
        words: Words that it takes.
        default: Value where nothing is given; empty for none.
        setting: Setting of the case that gives the default.
        required: Whether a value is needed.
        many: Whether several values are taken, with `;` between.
        hint: What to give, in a few words.
    """

    name: str
    label: str
    kind: Kind | None = None
    words: tuple[str, ...] = ()
    default: str = ""
    setting: str = ""
    required: bool = False
    many: bool = False
    hint: str = ""

    def unit(self, system: System) -> str:
        """Return the unit that a bare number has."""
        if self.kind is None:
            return ""
        return self.kind.us if system is System.US else self.kind.si


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One result of a calculator.

    Attributes:
        name: What it is called in JSON.
        label: What it is called before a person.
        kind: Kind of quantity; None for words.
        value: The number in the SI unit of its kind; None for words.
        words: The result in words, where it is no number.
        quantity: Word of the field book under which it is recorded; empty where it has none.
        apart_from: A limit that the number must not look like unless it is the same.
    """

    name: str
    label: str
    kind: Kind | None = None
    value: float | None = None
    words: str = ""
    quantity: str = ""
    apart_from: float | None = None

    def shown(self, showing: Showing) -> str:
        """Return the result as text, in the units of the case."""
        if self.kind is None or self.value is None:
            return self.words
        return showing.value(self.kind, self.value, apart_from=self.apart_from)

    def copied(self, system: System = System.SI) -> Quantity | None:
        """Return the number as it is copied into a record; None for words."""
        if self.kind is None or self.value is None:
            return None
        shown = Showing(System.US if system is System.US else System.SI)
        number = shown.value(self.kind, self.value, unit=False).replace("−", "-")
        return Quantity(number, self.kind.us if system is System.US else self.kind.si)


_MOST = 1e12
_MOST_FOUND = 1e15
_SPANS: Mapping[Kind, tuple[float, float]] = {
    TEMPERATURE: (-273.15, 2000.0),
    **dict.fromkeys(
        (STRESS, FORCE, THICKNESS, SIZE, AREA, VOLUME, DENSITY, HOURS, DAYS, MINUTES, SECONDS),
        (0.0, _MOST),
    ),
}
"""What an input of a kind may be, in the SI unit of the kind."""
_BEYOND = "{} gives no number for these inputs; look at the largest and the smallest of them"


@dataclass(frozen=True, slots=True)
class Given:
    """The inputs as a calculator takes them: numbers in the SI unit of their kind."""

    numbers: Mapping[str, float]
    several: Mapping[str, tuple[float, ...]]
    words: Mapping[str, str]
    settings: Settings

    def __getitem__(self, name: str) -> float:
        """Return a number that was given.

        Raises:
            ValueError: It was not.
        """
        if name not in self.numbers:
            raise ValueError(f"{name} is missing")
        return self.numbers[name]

    def get(self, name: str) -> float | None:
        """Return a number; None where it was not given."""
        return self.numbers.get(name)

    def word(self, name: str) -> str:
        """Return a word; empty where none was given."""
        return self.words.get(name, "")

    def any_of(self, *names: str) -> bool:
        """Return whether one of the numbers was given."""
        return any(name in self.numbers for name in names)

    def all_of(self, *names: str) -> bool:
        """Return whether each of the numbers was given."""
        return all(name in self.numbers for name in names)


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculator:
    """One calculator.

    Attributes:
        name: What it is called in a command.
        title: What it is called before a person.
        inputs: Its inputs.
        formula: The formula, as printed.
        bases: Where it stands, and how that is known.
        compute: Gives the results.
        caution: What the result may not be taken for; empty where nothing need be said.
    """

    name: str
    title: str
    inputs: tuple[Input, ...]
    formula: str
    bases: tuple[Basis, ...]
    compute: Callable[[Given], Iterable[Found]]
    caution: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """A calculator with what was given to it and what it found.

    Attributes:
        calculator: The calculator.
        given: The inputs as taken, defaults among them, as text with units.
        found: The results.
        showing: Units of the results as text.
    """

    calculator: Calculator
    given: Mapping[str, str]
    found: tuple[Found, ...]
    showing: Showing = field(default_factory=Showing)

    def lines(self) -> tuple[tuple[str, str], ...]:
        """Return label and text of each result."""
        return tuple((one.label, one.shown(self.showing)) for one in self.found)


def calculate(
    calculator: Calculator,
    given: Mapping[str, str],
    settings: Settings | None = None,
    *,
    showing: Showing | None = None,
) -> Calculation:
    """Return what a calculator finds.

    Args:
        calculator: The calculator.
        given: Text of each input by its name: a number with its unit, or a word.
        settings: Choices of the case; the defaults where none are given.
        showing: Units of bare numbers and of the results.

    Raises:
        CalculatorError: An input is missing, unknown, or not what it should be.
    """
    show, chosen = showing or Showing(), settings or Settings()
    known = {one.name: one for one in calculator.inputs}
    for name in given:
        if name not in known:
            raise CalculatorError(
                f"{calculator.name} takes no “{name}”; it takes {', '.join(known)}"
            )
    texts = {one.name: _text(one, given, chosen) for one in calculator.inputs}
    read = _Reading(show.system, chosen)
    for one in calculator.inputs:
        read.take(one, texts[one.name])
    try:
        found = tuple(calculator.compute(read.given()))
    except ValueError as wrong:
        raise CalculatorError(str(wrong)) from wrong
    except ArithmeticError as wrong:
        raise CalculatorError(_BEYOND.format(calculator.name)) from wrong
    if not all(abs(one.value) <= _MOST_FOUND for one in found if one.value is not None):
        raise CalculatorError(_BEYOND.format(calculator.name))
    if not found:
        raise CalculatorError(f"{calculator.name}: too little is given to find anything")
    said = {one.name: _said(one, texts[one.name], show.system) for one in calculator.inputs}
    said = {name: text for name, text in said.items() if text}
    return Calculation(calculator=calculator, given=said, found=found, showing=show)


def _said(one: Input, text: str, system: System) -> str:
    """Return an input as it was taken: a bare number with the unit it was taken in."""
    bare = all(part.strip().replace(".", "", 1).lstrip("+-").isdigit() for part in text.split(";"))
    unit = unit_sign(one.unit(system))
    return f"{text} {unit}" if text and unit and bare else text


def _text(one: Input, given: Mapping[str, str], settings: Settings) -> str:
    text = given.get(one.name, "").strip()
    if text:
        return text
    if one.setting:
        unit = f" {one.kind.si}" if one.kind else ""
        return f"{getattr(settings, one.setting)}{unit}".strip()
    return one.default


class _Reading:
    """Takes texts as numbers and words, and says which one is wrong."""

    def __init__(self, system: System, settings: Settings) -> None:
        self._system, self._settings = system, settings
        self._numbers: dict[str, float] = {}
        self._several: dict[str, tuple[float, ...]] = {}
        self._words: dict[str, str] = {}

    def take(self, one: Input, text: str) -> None:
        if not text:
            if one.required:
                raise CalculatorError(f"{one.name} is missing; give {_right(one, self._system)}")
        elif one.kind is None:
            self._words[one.name] = _word(one, text)
        elif one.many:
            parts = [part for part in text.split(";") if part.strip()]
            self._several[one.name] = tuple(self._number(one, part) for part in parts)
        else:
            self._numbers[one.name] = self._number(one, text)

    def given(self) -> Given:
        return Given(self._numbers, self._several, self._words, self._settings)

    def _number(self, one: Input, text: str) -> float:
        kind = one.kind
        if kind is None:
            raise CalculatorError(f"{one.name} is no number")
        value = self._value(one, kind, text)
        low, high = _SPANS.get(kind, (-_MOST, _MOST))
        if not low <= value <= high:
            raise CalculatorError(f"{one.name}: {text.strip()} is no {one.label} there can be")
        return value

    def _value(self, one: Input, kind: Kind, text: str) -> float:
        try:
            quantity = Quantity.read(text.strip())
            if kind.si == "":
                return quantity.value
            moved = difference_in if kind.difference else in_unit
            return moved(quantity, kind.si, one.unit(self._system))
        except NotUnderstoodError as wrong:
            right = _right(one, self._system)
            raise CalculatorError(f"{one.name}: {wrong.wrong}; give {right}") from wrong
        except UnitError as wrong:
            raise CalculatorError(f"{one.name}: {wrong}") from wrong


def _word(one: Input, text: str) -> str:
    """Return the word meant: the one said, or the only one that the text is a part of."""
    if not one.words:
        return text
    told = text.lower().replace("_", " ")
    same = [word for word in one.words if word.lower() == told]
    alike = same or [word for word in one.words if told in word.lower()]
    if len(alike) == 1:
        return alike[0]
    raise CalculatorError(f"{one.name}: “{text}” is not one of: {'; '.join(one.words)}")


def _right(one: Input, system: System) -> str:
    if one.words:
        return "one of: " + "; ".join(one.words)
    what = one.hint or one.label
    unit = one.unit(system)
    return f"{what}, in {unit} or with its unit" if unit else what
