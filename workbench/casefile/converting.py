"""Records to the plain values of a table or journal entry and back: one way for all types."""

import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Final, TypeVar, cast

from workbench.records import KINDS, KnownError, Record, fields_of

R = TypeVar("R", bound=Record)

Plain = str | int | None
"""What a cell holds."""

Reader = Callable[[Any], Any]
"""Makes the value of a field from what its cell holds; raises ValueError where it cannot."""

ALWAYS = ("id", "origin", "withdrawn")
_LARGEST = 2**63 - 1


class CellError(KnownError):
    """A cell holds what its field cannot be."""


@dataclass(frozen=True, slots=True)
class Shape:
    """How a record type is stored.

    Attributes:
        names: The fields that are stored, in the order of the table's columns.
        blanks: The value of each where nothing was said.
        readers: What makes the value of each from what is stored.
    """

    names: tuple[str, ...]
    blanks: Mapping[str, Plain]
    readers: tuple[Reader, ...]


def _shape(kind: type[Record]) -> Shape:
    types = dict.fromkeys(ALWAYS, str) | {info.name: info.type for info in fields_of(kind)}
    return Shape(
        names=tuple(types),
        blanks={name: "" if wanted is str else None for name, wanted in types.items()},
        readers=tuple(_reader(wanted) for wanted in types.values()),
    )


def _reader(wanted: type[Any]) -> Reader:
    if wanted in (str, int):
        return partial(_itself, wanted)
    return cast("Reader", getattr(wanted, "read", wanted))


def _itself(wanted: type[Any], value: object) -> object:
    if type(value) is not wanted:
        raise ValueError(value)
    return value


SHAPES: Final = {kind: _shape(kind) for kind in KINDS}


def plain(record: Record) -> dict[str, Plain]:
    """Return what a record says as plain values, text in Unicode normalization form C.

    Raises:
        KnownError: A text or number cannot be stored.
    """
    return {name: _plain(getattr(record, name), name) for name in SHAPES[type(record)].names}


def records_of(kind: type[R], rows: Sequence[Sequence[Any]]) -> list[R]:
    """Return the records that the rows of a table hold; each distinct text is read once.

    Raises:
        CellError: A cell holds what the field cannot be.
    """
    if not rows:
        return []
    shape = SHAPES[kind]
    columns = (
        _read_all(values, reader, f"{kind.noun}.{name}")
        for values, reader, name in zip(
            zip(*rows, strict=True), shape.readers, shape.names, strict=True
        )
    )
    return [kind(**dict(zip(shape.names, row, strict=True))) for row in zip(*columns, strict=True)]


def record_of(kind: type[R], said: Mapping[str, Plain]) -> R:
    """Return the record that `said` describes; fields it does not name are blank."""
    whole = {**SHAPES[kind].blanks, **said}
    (record,) = records_of(kind, [[whole[name] for name in SHAPES[kind].names]])
    return record


def _plain(value: object, name: str) -> Plain:
    if value is None:
        return None
    if isinstance(value, int):
        if abs(value) > _LARGEST:
            raise KnownError(f"{name}: {value} is too large a number; write a smaller one")
        return int(value)
    text = str(value)
    if text.isascii():
        return text
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as wrong:
        raise KnownError(
            f"{name}: {text!a} holds a character that no text can; type it anew"
        ) from wrong
    return unicodedata.normalize("NFC", text)


def _read_all(values: Sequence[Any], reader: Reader, column: str) -> Sequence[Any]:
    known: dict[Any, Any] = {None: None}
    for value in dict.fromkeys(values):
        if value is not None:
            try:
                known[value] = reader(value)
            except (ValueError, TypeError) as wrong:
                raise CellError(f"{column} cannot be “{value}”") from wrong
    return [known[value] for value in values]
