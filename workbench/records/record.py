"""What every record has, and how its fields stand in book, form, table and file.

A record is a frozen, slotted, keyword-only dataclass that derives from `Record`. Its fields carry
a `Column`; from the fields alone follow the sheet of the field book, the form and table on the
screen, and the table in the case file. There is no second declaration.
"""

import re
import uuid
from collections.abc import Mapping
from dataclasses import MISSING, Field, dataclass, field, fields
from functools import cache
from types import MappingProxyType, UnionType
from typing import Any, ClassVar, Self, get_args

from workbench.records.codes import Chapter

_COLUMN = "column"
UNDONE = "undone"
"""Why a record is withdrawn whose adding was undone; it gives its label back."""


@dataclass(frozen=True, slots=True)
class Column:
    """How one field stands before a person.

    Attributes:
        heading: Heading in the field book, in the window and in the report.
        unit: Unit that a bare number has.
        unit_heading: Heading of the column that gives the unit, where there is one.
        refers: Nouns of the records that the text refers to by ref.
        words: Words the column takes, where the type does not say it.
        open_words: Whether other words than `words` may stand too.
        hint: What to write, in a few words.
        in_book: Whether the field book has a column for it; False for what is said at the desk.
    """

    heading: str
    unit: str = ""
    unit_heading: str = ""
    refers: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    open_words: bool = False
    hint: str = ""
    in_book: bool = True


def told(heading: str, **more: Any) -> Mapping[str, Column]:  # noqa: ANN401 - passed to Column
    """Return the metadata of a field that stands under `heading`; see `Column`."""
    return MappingProxyType({_COLUMN: Column(heading, **more)})


@dataclass(frozen=True, slots=True)
class FieldInfo:
    """One field of a record type: its name, its type without None, and its column."""

    name: str
    type: type[Any]
    required: bool
    column: Column


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong inside one record, whatever the rest of the case says.

    Attributes:
        field: Name of the field it stands in.
        wrong: What is wrong.
        right: What would be right.
    """

    field: str
    wrong: str
    right: str


@dataclass(frozen=True, slots=True)
class Source:
    """Where something comes from: a record, by its noun and label."""

    noun: str
    label: str

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the source that `str(source)` says."""
        noun, _, label = text.partition(" ")
        return cls(noun, label)

    def __str__(self) -> str:
        """Return noun and label."""
        return f"{self.noun} {self.label}"


def new_id() -> str:
    """Return an identifier that no other record has."""
    return uuid.uuid4().hex


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """What every record has.

    Attributes:
        id: Identifier that never changes and is never shown.
        origin: Where the record came from: "book.xlsx, pull-off!A12", "entered by hand".
        withdrawn: Why the record no longer counts; empty while it does. Nothing is ever deleted.
    """

    noun: ClassVar[str] = "record"
    """The one word that runs through all rooms, and the name of the table."""
    sheet: ClassVar[str] = ""
    """Sheet of the field book; empty where the book has none."""
    title: ClassVar[str] = ""
    """What one is called before a person."""
    chapter: ClassVar[Chapter] = Chapter.BACKGROUND
    identity: ClassVar[tuple[str, ...]] = ("ref",)
    """Fields that tell one record of the type from another."""
    ledger: ClassVar[bool] = False
    """Whether the records are entries of the custody ledger: only ever followed by another."""
    comes_about: ClassVar[str] = ""
    """How records of the type come about where nobody writes them by hand; empty for the rest."""
    left_open: ClassVar[tuple[str, ...]] = ()
    """Fields that a person still fills in records that come about otherwise."""
    repeats: ClassVar[bool] = False
    """Whether several records without a ref may share their identity, as rows of a log may."""

    id: str = field(default_factory=new_id)
    origin: str = ""
    withdrawn: str = ""

    @classmethod
    def counted(cls, number: int) -> str:
        """Return `number` of the type in words: "1 pull-off", "3 pull-offs", "2 parties"."""
        name = cls.title[:1].lower() + cls.title[1:]
        if number == 1:
            return f"1 {name}"
        word, *rest = re.split("(?= on | to | of )", name, maxsplit=1)
        if word.endswith("y"):
            return f"{number} {word[:-1]}ies{''.join(rest)}"
        return f"{number} {word}{' records' if word.endswith('ss') else 's'}{''.join(rest)}"

    @property
    def label(self) -> str:
        """What a person calls the record: its ref, or the fields of its identity."""
        said = (getattr(self, name) for name in self.identity)
        return " · ".join(str(value) for value in said if value not in (None, ""))

    @property
    def source(self) -> Source:
        """The record as a source of something else."""
        return Source(self.noun, self.label)

    def faults(self) -> tuple[Fault, ...]:
        """Return what is wrong inside the record; most types have nothing to say."""
        return ()


def _column_of(one: Field[Any]) -> Column | None:
    found = one.metadata.get(_COLUMN)
    return found if isinstance(found, Column) else None


def _bare_type(annotation: Any) -> type[Any]:  # noqa: ANN401 - what a dataclass field holds
    if isinstance(annotation, UnionType):
        (inner,) = (part for part in get_args(annotation) if part is not type(None))
        return _bare_type(inner)
    if not isinstance(annotation, type):
        raise TypeError(f"no record field may have the type {annotation!r}")
    return annotation


def fields_of(kind: type[Record]) -> tuple[FieldInfo, ...]:
    """Return the fields of a record type that a person fills in, in their order."""
    return _fields_of(kind)  # type: ignore[arg-type]  # mypy takes the instances' __hash__


@cache
def _fields_of(kind: type[Record]) -> tuple[FieldInfo, ...]:
    return tuple(
        FieldInfo(one.name, _bare_type(one.type), _required(one), column)
        for one in fields(kind)
        if (column := _column_of(one))
    )


def _required(one: Field[Any]) -> bool:
    return one.default is MISSING and one.default_factory is MISSING
