"""What each method of the laboratory can and cannot tell; from `resources/laboratory.toml`."""

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from workbench.resources import resource


@dataclass(frozen=True, slots=True)
class MethodLimits:
    """One method's reach.

    Attributes:
        id: Test id of the register.
        title: What a person reads.
        can: What a result can tell, as sentences.
        cannot: What it cannot, as sentences.
        detection: Least that it finds, in words; empty where nothing is known.
        status: Where this comes from.
    """

    id: str
    title: str
    can: tuple[str, ...]
    cannot: tuple[str, ...]
    detection: str
    status: str


@cache
def all_limits() -> tuple[MethodLimits, ...]:
    """Return the limits of every method that has some, in the order of the file."""
    said = tomllib.loads(resource("laboratory.toml").read_text("utf-8"))
    return tuple(
        MethodLimits(
            name, one["title"], tuple(one["can"]), tuple(one["cannot"]), one.get("detection", ""),
            one["status"],
        )
        for name, one in said.items()
    )  # fmt: skip


def limits_of(method: str) -> MethodLimits | None:
    """Return what a method can and cannot tell, or None where nothing is said of it."""
    return next((one for one in all_limits() if one.id == method), None)


def limits_for(methods: Iterable[str]) -> tuple[MethodLimits, ...]:
    """Return the limits of the methods used, each once, in the order of the file."""
    used = set(methods)
    return tuple(one for one in all_limits() if one.id in used)
