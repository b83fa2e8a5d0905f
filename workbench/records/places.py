"""Places: outlines on the plan, the features of a place, and lists of references."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Self

from workbench.records.written import NotUnderstoodError


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline on the plan, in metres, with holes where it has any.

    Attributes:
        rings: The outer ring first, then holes; each a tuple of (x, y), not repeating its start.
    """

    rings: tuple[tuple[tuple[float, float], ...], ...]

    @property
    def area_m2(self) -> float:
        """Area enclosed, holes deducted, in square metres (shoelace formula)."""
        outer, *holes = (abs(_shoelace(ring)) for ring in self.rings)
        return outer - sum(holes)

    def distance_m(self, x: float, y: float) -> float:
        """Return how far a point lies outside, in metres; 0 for one inside or on a line."""
        crossings = sum(_crosses(x, y, *side) for ring in self.rings for side in _sides(ring))
        if crossings % 2:
            return 0.0
        return min(_to_side(x, y, *side) for ring in self.rings for side in _sides(ring))

    @classmethod
    def read(cls, text: str) -> Self:
        """Return an outline from "x y; x y; x y", holes after "|".

        Raises:
            NotUnderstoodError: A ring has fewer than three points or a point is not two numbers.
        """
        return cls(tuple(_ring(part) for part in text.split("|")))

    def __str__(self) -> str:
        """Return the rings as `read` takes them."""
        said = ("; ".join(f"{_said(x)} {_said(y)}" for x, y in ring) for ring in self.rings)
        return " | ".join(said)


Point = tuple[float, float]


def _sides(ring: tuple[Point, ...]) -> Iterator[tuple[Point, Point]]:
    return zip(ring, (*ring[1:], ring[0]), strict=True)


def _crosses(x: float, y: float, one: Point, other: Point) -> bool:
    """Return whether a side is crossed by the ray from a point along x."""
    (x0, y0), (x1, y1) = one, other
    return (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0)


def _to_side(x: float, y: float, one: Point, other: Point) -> float:
    """Return the distance of a point from a side."""
    (x0, y0), (x1, y1) = one, other
    length = math.hypot(x1 - x0, y1 - y0)
    along = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length**2 if length else 0.0
    share = min(max(along, 0.0), 1.0)
    return math.hypot(x - x0 - share * (x1 - x0), y - y0 - share * (y1 - y0))


def _shoelace(ring: tuple[tuple[float, float], ...]) -> float:
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in _sides(ring)) / 2


def _point(part: str, right: str) -> tuple[float, float]:
    try:
        x, y = (_coordinate(word) for word in part.split())
    except ValueError as wrong:
        raise NotUnderstoodError(f"“{part.strip()}” is not a point", right) from wrong
    return x, y


def _ring(text: str) -> tuple[tuple[float, float], ...]:
    right = "write x y; x y; x y in metres, at least three points"
    points = []
    for part in text.split(";"):
        if not part.strip():
            continue
        points.append(_point(part, right))
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    if len(points) < 3:
        raise NotUnderstoodError("an outline with fewer than three points", right)
    return tuple(points)


@dataclass(frozen=True, slots=True)
class Points:
    """Points on a picture, each as shares of its width and height from the upper left.

    Attributes:
        points: Pairs of shares, 0 to 1.
    """

    points: tuple[tuple[float, float], ...]

    @classmethod
    def read(cls, text: str) -> Self:
        """Return points from "0.31 0.42; 0.55 0.6".

        Raises:
            NotUnderstoodError: There is none, or one lies outside the picture.
        """
        right = "write 0.31 0.42; 0.55 0.6, each a share of width and height"
        found = tuple(_point(part, right) for part in text.split(";") if part.strip())
        if not found:
            raise NotUnderstoodError("no point", right)
        for x, y in found:
            if not (0 <= x <= 1 and 0 <= y <= 1):
                raise NotUnderstoodError(f"“{x:g} {y:g}” lies outside the picture", right)
        return cls(found)

    def __str__(self) -> str:
        """Return the points with `;` between."""
        return "; ".join(f"{x:g} {y:g}" for x, y in self.points)


def _coordinate(word: str) -> float:
    if not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", word, re.ASCII):
        raise ValueError(word)
    return float(word)


def _said(number: float) -> str:
    """Return a coordinate with all its digits."""
    return f"{number:.15g}"


@dataclass(frozen=True, slots=True)
class Features:
    """What is special about a place: tags and named values.

    Attributes:
        items: Pairs of name and value; a bare tag has the value "yes", an absent one "no".
    """

    items: tuple[tuple[str, str], ...] = ()

    def has(self, tag: str) -> bool | None:
        """Return whether `tag` is there; None where nobody looked or could tell."""
        value = self.value(tag)
        return None if value in (None, "unknown", "?") else value != "no"

    def value(self, name: str) -> str | None:
        """Return the value of `name`, or None where it is not said."""
        return dict(self.items).get(name)

    @classmethod
    def read(cls, text: str) -> Self:
        """Return features from "drain; curing=wax; joint=no".

        Raises:
            NotUnderstoodError: A name stands twice or is missing.
        """
        items = []
        for part in text.split(";"):
            if not part.strip():
                continue
            name, equals, value = (word.strip() for word in part.partition("="))
            if not re.fullmatch(r"[^\W\d][\w -]*", name):
                wrong = f"“{part.strip()}” is not a feature"
                raise NotUnderstoodError(wrong, "write tag or name=value")
            items.append((name, value if equals else "yes"))
        if len(items) != len({name for name, _ in items}):
            raise NotUnderstoodError(f"“{text}” says a feature twice", "give each feature once")
        return cls(tuple(items))

    def __str__(self) -> str:
        """Return the features with `;` between."""
        return "; ".join(n if v == "yes" else f"{n}={v}" for n, v in self.items)


@dataclass(frozen=True, slots=True)
class Refs:
    """One or several references, as in "bay-1; bay-2"."""

    refs: tuple[str, ...]

    def __iter__(self) -> Iterator[str]:
        """Return the references one by one."""
        return iter(self.refs)

    def __contains__(self, ref: object) -> bool:
        """Return whether `ref` is one of them."""
        return ref in self.refs

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the references in `text`.

        Raises:
            NotUnderstoodError: There is none, or one stands twice.
        """
        refs = tuple(part.strip() for part in text.split(";") if part.strip())
        if not refs or len(refs) != len(set(refs)):
            raise NotUnderstoodError(f"“{text}” is no list of references", "write bay-1; bay-2")
        return cls(refs)

    def __str__(self) -> str:
        """Return the references with `;` between."""
        return "; ".join(self.refs)
