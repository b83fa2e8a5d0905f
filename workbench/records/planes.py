"""Where in the layer stack: planes and breaks in the notation of ISO 4624.

Layer 0 is the substrate, coats are 1 to n from the bottom. `A` is a break within the substrate,
`A/B` between substrate and first coat, `B` within the first coat, and so on; `-/Y` is between the
last coat and the glue, `Y` within the glue, `Y/Z` between glue and fixture.
"""

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Self

from workbench.records.written import NotUnderstoodError

_COATS = "BCDEFGHIJKLMNOPQRSTUVWX"
_GLUE = ("-/Y", "Y", "Y/Z")
_RIGHT = "write A, A/B, B, B/C, …, -/Y, Y or Y/Z"
MOST_COATS = len(_COATS)


class PlaneKind(StrEnum):
    """What a plane lies in or between."""

    SUBSTRATE = "within the substrate"
    INTERFACE = "between layers"
    COAT = "within a coat"
    GLUE = "in the glue"


def layer_letter(order: int) -> str:
    """Return the letter of a layer: 0 is A (the substrate), 1 is B, 2 is C.

    Raises:
        ValueError: There is no letter for that order.
    """
    if order == 0:
        return "A"
    if not 1 <= order <= MOST_COATS:
        raise ValueError(f"no letter for coat {order}")
    return _COATS[order - 1]


def layer_sign(order: int) -> str:
    """Return the letter of a layer, or "coat 30" for an order that has none."""
    return layer_letter(order) if 0 <= order <= MOST_COATS else f"coat {order}"


def layer_order(letter: str) -> int:
    """Return the order of a layer from its letter: A is 0, B is 1.

    Raises:
        ValueError: The letter stands for no layer.
    """
    return 0 if letter == "A" else _COATS.index(letter) + 1


@dataclass(frozen=True, slots=True)
class Plane:
    """One plane of the stack, such as `A/B` or `C`."""

    code: str

    def __post_init__(self) -> None:
        """Refuse a code that names no plane.

        Raises:
            NotUnderstoodError: The code is not in the notation.
        """
        if self.code in _GLUE or re.fullmatch("[A-X]", self.code):
            return
        lower, _, upper = self.code.partition("/")
        if not (re.fullmatch("[A-X]/[B-X]", self.code) and ord(upper) == ord(lower) + 1):
            raise NotUnderstoodError(f"“{self.code}” is not a plane", _RIGHT)

    @property
    def kind(self) -> PlaneKind:
        """Whether the plane is in the substrate, between layers, in a coat or in the glue."""
        if self.code in _GLUE:
            return PlaneKind.GLUE
        if self.code == "A":
            return PlaneKind.SUBSTRATE
        return PlaneKind.INTERFACE if "/" in self.code else PlaneKind.COAT

    @property
    def in_glue(self) -> bool:
        """Whether a break here says no more than "at least this strong"."""
        return self.kind is PlaneKind.GLUE

    @property
    def lower(self) -> int | None:
        """Order of the layer below the plane, or that it lies in; None in the glue."""
        return None if self.in_glue else layer_order(self.code[0])

    @property
    def upper(self) -> int | None:
        """Order of the layer above the plane, or that it lies in; None in the glue."""
        return None if self.in_glue else layer_order(self.code[-1])

    @property
    def height(self) -> float:
        """Sort key from the substrate up: A is 0, A/B 0.5, B 1; the glue lies above all coats."""
        if self.in_glue:
            return MOST_COATS + 1 + 0.5 * _GLUE.index(self.code)
        return (layer_order(self.code[0]) + layer_order(self.code[-1])) / 2

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the plane that `text` says; spaces and small letters are forgiven.

        Raises:
            NotUnderstoodError: It names no plane.
        """
        code = "".join(text.split()).upper()
        if re.fullmatch("[A-X]/Y", code):
            code = "-/Y"
        return cls(code)

    @classmethod
    def within(cls, order: int) -> Self:
        """Return the plane within layer `order`."""
        return cls(layer_letter(order))

    @classmethod
    def above(cls, order: int) -> Self:
        """Return the plane between layer `order` and the next coat."""
        return cls(f"{layer_letter(order)}/{layer_letter(order + 1)}")

    def __str__(self) -> str:
        """Return the code."""
        return self.code


@dataclass(frozen=True, slots=True)
class Share:
    """A part of one break.

    Attributes:
        plane: Where; None where the source does not give it (`?`).
        percent: How much of the face, 0 to 100; None where the source does not give it (`?`).
    """

    plane: Plane | None
    percent: float | None

    def __str__(self) -> str:
        """Return plane and percent as entered."""
        amount = "?" if self.percent is None else f"{self.percent:.15g}"
        return f"{self.plane or '?'} {amount}"


@dataclass(frozen=True, slots=True)
class Breaks:
    """The shares by plane of one pull-off, in percent, summing to 100."""

    shares: tuple[Share, ...]

    def of(self, plane: Plane) -> float:
        """Return the share of `plane` in percent; what is not given counts for no plane."""
        return sum(share.percent or 0 for share in self.shares if share.plane == plane)

    @property
    def total(self) -> float:
        """Sum of the shares given, in percent."""
        return sum(share.percent or 0 for share in self.shares)

    @property
    def glue(self) -> float:
        """Share in the glue planes, in percent."""
        return sum(s.percent or 0 for s in self.shares if s.plane and s.plane.in_glue)

    @property
    def complete(self) -> bool:
        """Whether every share and plane is given."""
        return all(s.plane is not None and s.percent is not None for s in self.shares)

    @property
    def balanced(self) -> bool:
        """Whether the shares sum to 100 (or to less where a share is not given)."""
        unknown = any(share.percent is None for share in self.shares)
        return self.total <= 100 if unknown else abs(self.total - 100) < 0.05

    @classmethod
    def read(cls, text: str) -> Self:
        """Return breaks from "A/B 60; B 30; Y 10"; the order of plane and number is free.

        Raises:
            NotUnderstoodError: A part has no plane and number, or a plane stands twice.
        """
        shares = tuple(_read_share(part) for part in re.split("[;\n]", text) if part.strip())
        named = [share.plane for share in shares if share.plane]
        if not shares:
            raise NotUnderstoodError("no breaks", "write A/B 60; B 30; Y 10")
        if len(named) != len(set(named)):
            raise NotUnderstoodError(f"“{text}” names a plane twice", "give each plane once")
        return cls(shares)

    def __str__(self) -> str:
        """Return the shares with `;` between."""
        return "; ".join(str(share) for share in self.shares)


def _read_share(part: str) -> Share:
    bare = part.strip().rstrip("%").strip()
    found = re.fullmatch(r"(?P<a>\S+(?:\s*/\s*\S+)?)\s+(?P<b>\S+(?:\s*/\s*[A-Za-z])?)", bare)
    if not found:
        raise NotUnderstoodError(f"“{part.strip()}” is not a plane with its share", "write A/B 60")
    plane, amount = found["a"], found["b"].rstrip("%")
    if re.match(r"\d", plane):
        plane, amount = amount, plane.rstrip("%")
    percent = None if amount == "?" else _percent(amount)
    return Share(None if plane == "?" else Plane.read(plane), percent)


def _percent(amount: str) -> float:
    if not re.fullmatch(r"\d+(\.\d+)?", amount) or not 0 <= float(amount) <= 100:
        raise NotUnderstoodError(f"“{amount}” is not a share in percent", "write 0 to 100, or ?")
    return float(amount)


_FACE_WORDS = ("outer", "bulk", "section", "substrate", "fluid")


@dataclass(frozen=True, slots=True)
class Face:
    """What was looked at: an opened plane, one side of it, or a part of the specimen.

    Attributes:
        text: `C/D` (the opened interface), `C/D@D` (the face of D there), or one of outer, bulk,
            section, substrate, fluid; words may follow, as in `section C`.
    """

    text: str

    def __post_init__(self) -> None:
        """Refuse what names neither a plane nor a part.

        Raises:
            NotUnderstoodError: The first word is neither.
        """
        first = self.text.split()[0] if self.text.split() else ""
        if first in _FACE_WORDS:
            return
        plane, _, side = first.partition("@")
        if side and side not in plane.split("/"):
            raise NotUnderstoodError(f"“{side}” is no side of {plane}", "write C/D@C or C/D@D")
        try:
            Plane.read(plane)
        except NotUnderstoodError as wrong:
            raise NotUnderstoodError(
                f"“{self.text}” is neither a plane nor a part of the specimen",
                f"write C/D, C/D@D, or one of: {', '.join(_FACE_WORDS)}",
            ) from wrong

    @property
    def plane(self) -> Plane | None:
        """The plane that was opened, if one was."""
        first = self.text.split()[0]
        return None if first in _FACE_WORDS else Plane.read(first.partition("@")[0])

    @property
    def side(self) -> str:
        """Letter of the layer whose face was looked at; empty where both or none."""
        return self.text.split()[0].partition("@")[2]

    @property
    def part(self) -> str:
        """The part of the specimen (outer, bulk …), or empty where a plane is named."""
        first = self.text.split()[0]
        return first if first in _FACE_WORDS else ""

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the face that `text` says.

        Raises:
            NotUnderstoodError: It names neither a plane nor a part.
        """
        return cls(" ".join(text.split()))

    def __str__(self) -> str:
        """Return the text."""
        return self.text
