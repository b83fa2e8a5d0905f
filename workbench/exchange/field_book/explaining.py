"""The words of the first sheet of the field book, and what each column asks for."""

import tomllib
from collections.abc import Mapping
from typing import NamedTuple

from workbench.exchange.field_book.columns import is_ref
from workbench.records import (
    Breaks,
    Face,
    Features,
    FieldInfo,
    Outcome,
    Outline,
    Plane,
    Quantity,
    Readings,
    Refs,
    When,
)
from workbench.records.codes import OUTCOME_WORDS
from workbench.resources import resource


class Words(NamedTuple):
    """What the first sheet says besides the list of sheets.

    Attributes:
        filling_in: How the book is filled in.
        rules: What single sheets take, by their names.
        cautions: What can hurt on such a visit.
        safety_first: What goes before the cautions.
        coming_back: How the book is taken in.
    """

    filling_in: tuple[str, ...]
    rules: Mapping[str, str]
    cautions: tuple[str, ...]
    safety_first: str
    coming_back: str


def words() -> Words:
    """Return the words of the first sheet."""
    said = tomllib.loads(resource("field_book.toml").read_text("utf-8"))
    cautions = tomllib.loads(resource("cautions.toml").read_text("utf-8"))
    return Words(
        filling_in=tuple(said["filling_in"]),
        rules=said["rules"],
        cautions=tuple(cautions.values()),
        safety_first=said["safety_first"],
        coming_back=said["coming_back"],
    )


_BY_TYPE: dict[type[object], str] = {
    When: "2019, 2019-02, 2019-02-08 or 2019-02-08 14:30",
    Breaks: "A/B 60; B 30; Y 10, together 100; ? where not known",
    Readings: "690; 700; 655, or mean 690; min 560; max 900; n 40",
    Outline: "x y; x y; x y in metres",
    Features: "tag or name=value, with ; between; tag=no: looked for and absent",
    Refs: "one ref, or several with ; between",
    Plane: "A, A/B, B, B/C …; Y for the glue",
    Face: "C/D, C/D@D, or outer, bulk, section, substrate, fluid",
    int: "a whole number",
}


def hint_of(info: FieldInfo) -> str:
    """Return what a column asks for, in a few words; an empty text where its heading says all."""
    said = [info.column.hint] if info.column.hint else []
    if info.type in _BY_TYPE and not said:
        said.append(_BY_TYPE[info.type])
    if info.type is Outcome:
        said.append(f"a number, or {', '.join(OUTCOME_WORDS)}")
    if info.type in {Quantity, Outcome} and info.column.unit_heading:
        said.append(f"unit under “{info.column.unit_heading}” or beside the number")
    if info.column.unit and info.type is Quantity:
        said.append(f"in {info.column.unit}, or with its unit beside it")
    if info.name == "file":
        said.append("a file beside the book, as photos/p01.jpg")
    if is_ref(info) and info.name == "ref":
        said.append("text, once on the sheet")
    return "; ".join(said)
