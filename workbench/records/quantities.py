"""Numbers as they were read: the digits written, with the unit they were written in."""

import re
from dataclasses import dataclass
from typing import Self

from workbench.records.codes import OUTCOME_WORDS
from workbench.records.written import NotUnderstoodError

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
_WITH_UNIT = re.compile(
    rf"(?P<number>{_NUMBER.pattern})(\s*(?P<unit>[^\W\d]\S*|[%°]\S*|(?<=\s)(1/h|wt %)))?"
)
_PLAIN_UNITS = {
    "µm": "um", "μm": "um", "micron": "um", "microns": "um", "°C": "degC", "°F": "degF",
    "m²": "m2", "ft²": "ft2", "N/mm²": "N/mm2", "mg/m²": "mg/m2", "g/m²": "g/m2",
    "kg/m²": "kg/m2", "µg/cm²": "ug/cm2", "μg/cm²": "ug/cm2", "ug/cm²": "ug/cm2",
    "µS/cm": "uS/cm", "μS/cm": "uS/cm", "mils": "mil", "thou": "mil", "PSI": "psi", "Mpa": "MPa",
    "mpa": "MPa", "sqft": "ft2", "wt %": "wt%", "hr": "h", "hours": "h", "sec": "s", "days": "d",
}  # fmt: skip


def plain_unit(unit: str) -> str:
    """Return `unit` in the plain letters that are stored: `µm` becomes `um`, `m²` `m2`."""
    bare = " ".join(unit.split())
    return _PLAIN_UNITS.get(bare, bare)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit, digits as recorded: 50.0 stays 50.0.

    Attributes:
        text: The number as written, with a decimal point.
        unit: The unit in plain letters; empty for a bare number.
    """

    text: str
    unit: str = ""

    def __post_init__(self) -> None:
        """Refuse what is not a finite number.

        Raises:
            NotUnderstoodError: `text` is not a number.
        """
        if not _NUMBER.fullmatch(self.text):
            raise NotUnderstoodError(f"“{self.text}” is not a number", "write a number, as 2.4")

    @property
    def value(self) -> float:
        """The number, in `unit`."""
        return float(self.text)

    @property
    def digits(self) -> int:
        """How many decimals were written."""
        mantissa = re.split("[eE]", self.text)[0]
        return len(mantissa.partition(".")[2])

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the quantity that `text` says: "350 psi", "2.4 MPa", "7".

        Raises:
            NotUnderstoodError: There is no number at its start.
        """
        found = _WITH_UNIT.fullmatch(text.strip())
        if not found:
            raise NotUnderstoodError(
                f"“{text}” is not a number with a unit", "write a number, as 2.4 or 2.4 MPa"
            )
        return cls(found["number"], plain_unit(found["unit"] or ""))

    def __str__(self) -> str:
        """Return the number and, where there is one, its unit."""
        return f"{self.text} {self.unit}".strip()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a test gave: a number with its unit, or one of the words of the field book."""

    quantity: Quantity | None = None
    word: str = ""

    @property
    def value(self) -> float | None:
        """The number, or None where the outcome is a word."""
        return self.quantity.value if self.quantity else None

    @property
    def unit(self) -> str:
        """The unit of the number; empty for a word."""
        return self.quantity.unit if self.quantity else ""

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the outcome that `text` says.

        Raises:
            NotUnderstoodError: It is neither a number nor a permitted word.
        """
        bare = text.strip()
        if bare.lower() in OUTCOME_WORDS:
            return cls(word=bare.lower())
        try:
            return cls(quantity=Quantity.read(bare))
        except NotUnderstoodError as wrong:
            raise NotUnderstoodError(
                f"“{bare}” is neither a number nor a word of the list",
                f"write a number, or one of: {', '.join(OUTCOME_WORDS)}",
            ) from wrong

    def __str__(self) -> str:
        """Return the word, or the number with its unit."""
        return self.word or str(self.quantity)


_SUMMARY = ("mean", "min", "max", "n")


@dataclass(frozen=True, slots=True)
class Readings:
    """Several readings of one spot, or the summary that was recorded instead of them.

    Attributes:
        values: The single readings as written; empty for a summary.
        mean: The recorded mean of a summary.
        low: The recorded smallest reading of a summary.
        high: The recorded largest reading of a summary.
        count: The recorded number of readings of a summary.
    """

    values: tuple[Quantity, ...] = ()
    mean: Quantity | None = None
    low: Quantity | None = None
    high: Quantity | None = None
    count: int | None = None

    @property
    def average(self) -> float:
        """Arithmetic mean of the readings, or the recorded mean, in the record's unit."""
        if self.mean is not None:
            return self.mean.value
        return sum(reading.value for reading in self.values) / len(self.values)

    @property
    def smallest(self) -> float | None:
        """The smallest reading known, in the record's unit."""
        if self.values:
            return min(reading.value for reading in self.values)
        return self.low.value if self.low else None

    @property
    def largest(self) -> float | None:
        """The largest reading known, in the record's unit."""
        if self.values:
            return max(reading.value for reading in self.values)
        return self.high.value if self.high else None

    @property
    def number(self) -> int | None:
        """How many readings stand behind the mean, where that is known."""
        return len(self.values) or self.count

    @classmethod
    def read(cls, text: str) -> Self:
        """Return readings from "690; 700; 655" or "mean 690; min 560; max 900; n 40".

        Raises:
            NotUnderstoodError: A part is not a number, or a summary has no mean.
        """
        parts = [part.strip() for part in text.split(";") if part.strip()]
        if parts and parts[0].split()[0].lower() in _SUMMARY:
            return cls._read_summary(parts)
        if not parts:
            raise NotUnderstoodError("no readings", "write 690; 700; 655")
        return cls(values=tuple(Quantity.read(part) for part in parts))

    @classmethod
    def _read_summary(cls, parts: list[str]) -> Self:
        said: dict[str, Quantity] = {}
        for part in parts:
            name, _, number = part.partition(" ")
            if name.lower() not in _SUMMARY or name.lower() in said:
                raise NotUnderstoodError(
                    f"“{part}” is not part of a summary", "write mean 690; min 560; max 900; n 40"
                )
            said[name.lower()] = Quantity.read(number)
        if "mean" not in said:
            raise NotUnderstoodError("a summary without its mean", "write mean 690; …")
        count = said.get("n")
        if count and not (count.text.isdecimal() and not count.unit):
            raise NotUnderstoodError(f"“n {count}” is not a number of readings", "write n 40")
        return cls(
            mean=said["mean"],
            low=said.get("min"),
            high=said.get("max"),
            count=int(count.value) if count else None,
        )

    def __str__(self) -> str:
        """Return the readings with `;` between, or the summary."""
        if self.values:
            return "; ".join(str(reading) for reading in self.values)
        said = (("mean", self.mean), ("min", self.low), ("max", self.high), ("n", self.count))
        return "; ".join(f"{name} {value}" for name, value in said if value is not None)
