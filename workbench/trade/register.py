"""The tests that an investigation may call for, by the id that a `method` column takes."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from workbench.resources import resource

NOT_FROM_A_TEST = ("record", "calculation", "not_stated")
"""What a `method` column says where a value came from no test of the register."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RegisteredTest:
    """One test of the register.

    Attributes:
        id: What a `method` column says: `f-…` in the field, `l-…` in the laboratory.
        name: What it is called before a person.
        setting: `field` or `lab`.
        standard: Standards that describe it; from memory but for those in `read`.
        cost: low, medium or high.
        delay: hours, days or weeks.
        destructive: no, small or yes.
        note: What to keep in mind.
        read: Standards whose public scope was seen in print.
    """

    id: str
    name: str
    setting: str
    standard: str
    cost: str
    delay: str
    destructive: str
    note: str = ""
    read: tuple[str, ...] = ()


@cache
def register() -> Mapping[str, RegisteredTest]:
    """Return the tests by id, those of the field first."""
    with resource("tests.toml").open("rb") as file:
        held = tomllib.load(file)
    return MappingProxyType(
        {name: RegisteredTest(**said | _read(said), id=name) for name, said in held.items()}
    )


def test_name(method: str) -> str:
    """Return what a `method` column says as a person reads it: the name of the test."""
    known = register().get(method) if method.startswith(("f-", "l-")) else None
    return known.name if known else method.replace("_", " ")


def _read(said: Mapping[str, object]) -> dict[str, tuple[str, ...]]:
    read = said.get("read", ())
    return {"read": tuple(str(one) for one in read) if isinstance(read, list) else ()}
