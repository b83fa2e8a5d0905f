"""The test methods of the trade, read from `resources/methods/`: one file each.

A method that needs no new formula is added by adding a file.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import MappingProxyType

from cattrs import ClassValidationError, Converter, transform_error

from workbench.records import BY_NOUN, Problem
from workbench.resources import resource
from workbench.trade.basis import Basis, Status
from workbench.trade.settings import Settings


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A limit of use, with its source."""

    words: str
    source: str = ""
    status: Status

    @property
    def basis(self) -> Basis:
        """The source and how it is known."""
        return Basis(self.source, self.status)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredQuantity:
    """A quantity that the method gives.

    Attributes:
        name: The word of the field book.
        words: What it is.
        unit: Its usual unit; empty for a count or a word.
        least: Least that it can be.
        most: Most that it can be.
        values: Words that it takes.
    """

    name: str
    words: str
    unit: str = ""
    least: float | None = None
    most: float | None = None
    values: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """The scale of a rating, and which end of it is the best.

    Attributes:
        best: Rating of the best.
        worst: Rating of the worst.
        values: Ratings that there are.
        steps: What the ratings mean, in words.
        suffix: Letter that follows the number.
        neutral: Whether neither end is the better one.
        source: Where the scale stands.
        status: How it is known.
    """

    best: float
    worst: float
    values: tuple[float, ...]
    steps: tuple[tuple[float, str], ...]
    suffix: str = ""
    neutral: bool = False
    source: str = ""
    status: Status

    @property
    def high_is_best(self) -> bool:
        """Whether the scale runs up to the best."""
        return self.best > self.worst

    @property
    def direction(self) -> str:
        """The direction in words, as every table and figure says it."""
        low, high = sorted((self.worst, self.best))
        best = "neither end is" if self.neutral else f"{self.best:g} is"
        return f"{low:g} to {high:g}, {best} the best"

    def goodness(self, rating: float) -> float:
        """Return where a rating lies from the worst, 0, to the best, 1."""
        return (rating - self.worst) / (self.best - self.worst)


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """What the method asks of the test.

    Attributes:
        name: What is limited: rate, fixture, film, exposure, air …
        words: The condition in words.
        least: Least permitted.
        most: Most permitted.
        unit: Unit of both.
        values: Words permitted.
        least_from: Setting that gives `least`.
        most_from: Setting that gives `most`.
        setting: Setting that chooses between sources.
        source: Where it stands.
        status: How it is known.
    """

    name: str
    words: str
    least: float | None = None
    most: float | None = None
    unit: str = ""
    values: tuple[str, ...] = ()
    least_from: str = ""
    most_from: str = ""
    setting: str = ""
    source: str = ""
    status: Status

    @property
    def basis(self) -> Basis:
        """The source and how it is known."""
        return Basis(self.source, self.status)

    def chosen(self, settings: Settings) -> "Condition":
        """Return the condition with the bounds that the settings of the case choose."""
        least = getattr(settings, self.least_from) if self.least_from else self.least
        most = getattr(settings, self.most_from) if self.most_from else self.most
        return replace(self, least=least, most=most)

    def put(self, least: float | None, most: float | None) -> "Condition":
        """Return the condition with bounds that the case has in the place of its own."""
        if least is None and most is None:
            return self
        return replace(
            self,
            least=self.least if least is None else least,
            most=self.most if most is None else most,
            source="chosen for this case",
            status=Status.PRACTICE,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberOfTests:
    """How many tests the method asks for."""

    least: int
    words: str
    source: str = ""
    status: Status

    @property
    def basis(self) -> Basis:
        """The source and how it is known."""
        return Basis(self.source, self.status)


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """One test method.

    Attributes:
        number: Number of the standard.
        title: What it is.
        editions: Editions known.
        family: Kind of test: pull-off, tape, thickness, moisture …
        record: Noun of the records that hold its results.
        codes: Words of a `method` column that mean it.
        register: Tests of the register that are done by it.
        tells: What it tells.
        does_not_tell: What it does not tell.
        quantities: What it measures.
        scale: Scale of its ratings.
        limits: Limits of its use.
        conditions: What it asks of the test.
        tests: How many tests it asks for.
        cautions: What can hurt, in words.
    """

    number: str
    title: str
    editions: tuple[str, ...]
    family: str
    record: str
    codes: tuple[str, ...]
    register: tuple[str, ...]
    tells: str
    does_not_tell: str
    quantities: tuple[MeasuredQuantity, ...] = ()
    scale: Scale | None = None
    limits: tuple[Remark, ...] = ()
    conditions: tuple[Condition, ...] = ()
    tests: NumberOfTests
    cautions: tuple[str, ...]

    def condition(self, name: str, settings: Settings) -> Condition | None:
        """Return what the method asks of `name`, as the settings choose; None where nothing."""
        found = next((one for one in self.conditions if one.name == name), None)
        if found is None:
            return None
        least, most = (settings.bound(self.number, name, side) for side in ("least", "most"))
        return found.chosen(settings).put(least, most)


class MethodError(ValueError):
    """A method file that is not one, with what is wrong in it."""


@cache
def methods() -> Mapping[str, Method]:
    """Return all methods by their number.

    Raises:
        MethodError: A file cannot be read as a method.
    """
    found = (read_method(path.read_text("utf-8"), path.name) for path in _files())
    return MappingProxyType({one.number: one for one in found})


def method(code: str) -> Method | None:
    """Return the method that a `method` column means by `code`; None where it means none."""
    known = methods()
    return known.get(code) or next((one for one in known.values() if code in one.codes), None)


def methods_of_test(test: str) -> tuple[Method, ...]:
    """Return the methods by which a test of the register is done."""
    return tuple(one for one in methods().values() if test in one.register)


def bounds_problems(settings: Settings) -> tuple[Problem, ...]:
    """Return the bounds of a case that are none of any method; they have no effect."""
    known = {
        f"{one.number} {condition.name} {side}"
        for one in methods().values()
        for condition in one.conditions
        for side in ("least", "most")
    }
    return tuple(
        Problem("case", f"method {name}", "no such condition", "as method ASTM D7234 rate most")
        for name, _ in settings.asked
        if name not in known
    )


def read_method(text: str, name: str) -> Method:
    """Return the method that the text of a file says.

    Args:
        text: TOML.
        name: What the file is called, for the message.

    Raises:
        MethodError: A key is missing, unknown, or not what it should be.
    """
    try:
        said = tomllib.loads(text)
        said["cautions"] = [_cautions()[key] for key in said.get("cautions", ())]
        read = _converter().structure(said, Method)
    except ClassValidationError as wrong:
        raise MethodError(f"{name}: {'; '.join(transform_error(wrong))}") from wrong
    except (tomllib.TOMLDecodeError, KeyError) as wrong:
        raise MethodError(f"{name}: {wrong}") from wrong
    if read.record not in BY_NOUN:
        raise MethodError(f"{name}: “{read.record}” is the noun of no record")
    return read


def _files() -> list[Path]:
    return sorted(resource("methods").glob("*.toml"))


@cache
def _cautions() -> dict[str, str]:
    return tomllib.loads(resource("cautions.toml").read_text("utf-8"))


@cache
def _converter() -> Converter:
    return Converter(forbid_extra_keys=True)
