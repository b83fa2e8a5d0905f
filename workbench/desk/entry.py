"""What a person types into a form, read as the field book is read: a record, or what is wrong."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from workbench.records import (
    BY_NOUN,
    Dossier,
    Fault,
    FieldInfo,
    NotUnderstoodError,
    Outcome,
    Quantity,
    Record,
    Refs,
    fields_of,
)

_BLANK = Fault("", "nothing is written", "this one is needed")


@dataclass(frozen=True, slots=True)
class Typed:
    """What was made of the texts of a form.

    Attributes:
        record: The record they say; None while something is wrong.
        wrong: What is wrong, by field.
        remarks: What is doubtful but does not hinder, by field.
    """

    record: Record | None
    wrong: Mapping[str, Fault]
    remarks: Mapping[str, Fault]


def texts_of(record: Record) -> dict[str, str]:
    """Return what a form shows of a record, by field: what `read_record` reads back."""
    return {info.name: _text(getattr(record, info.name)) for info in fields_of(type(record))}


def read_record(
    kind: type[Record],
    texts: Mapping[str, str],
    dossier: Dossier,
    before: Record | None = None,
) -> Typed:
    """Return the record that the texts of a form say.

    Args:
        kind: Type of the record.
        texts: What stands in each field, by name; a field that is missing is blank.
        dossier: The case, for names that must be there.
        before: The record that is being changed; None for a new one.
    """
    said: dict[str, Any] = {}
    wrong: dict[str, Fault] = {}
    remarks: dict[str, Fault] = {}
    for info in fields_of(kind):
        try:
            said[info.name] = _read_field(kind, info, texts.get(info.name, ""))
        except NotUnderstoodError as trouble:
            wrong[info.name] = Fault(info.name, trouble.wrong, trouble.right)
            continue
        if missing := _missing(kind, info, said[info.name], dossier):
            wrong[info.name] = missing
    _check_units(kind, said, wrong, remarks)
    record = None if wrong else _made(kind, said, before)
    for fault in record.faults() if record else ():
        wrong[fault.field] = fault
    return Typed(None if wrong else record, wrong, remarks)


def choices(kind: type[Record], info: FieldInfo, dossier: Dossier) -> tuple[str, ...]:
    """Return what a field may be filled with: words of its list, or refs of the case."""
    if info.column.refers:
        kinds = (BY_NOUN[noun] for noun in info.column.refers if noun in BY_NOUN)
        return tuple(name_of(one) for of in kinds for one in dossier.all(of))
    return _words_of(kind, info)


def name_of(record: Record) -> str:
    """Return what other records call a record: its ref or file, else its label."""
    return getattr(record, "ref", "") or getattr(record, "file", "") or record.label


def takes_other_words(info: FieldInfo) -> bool:
    """Return whether a field with choices takes other text too."""
    closed = bool(getattr(info.type, "__members__", None)) or bool(info.column.refers)
    open_list = any(word.endswith(":") for word in info.column.words)
    return not closed and (info.column.open_words or open_list)


def _text(value: object) -> str:
    return "" if value is None else str(value)


def _read_field(kind: type[Record], info: FieldInfo, text: str) -> object:
    from workbench.exchange.field_book.cells import Cell
    from workbench.exchange.field_book.values import read_value

    if not text.strip():
        if info.required:
            raise NotUnderstoodError(_BLANK.wrong, _BLANK.right)
        return None
    return read_value(kind, info, Cell(text)).value


def _made(kind: type[Record], said: Mapping[str, Any], before: Record | None) -> Record:
    given = {name: value for name, value in said.items() if value is not None}
    if before is None:
        return kind(origin="entered by hand", **given)
    return replace(before, **(_blank(kind) | given))


def _blank(kind: type[Record]) -> dict[str, Any]:
    """Return what the fields of a type hold when nothing is written in them."""
    declared = {one.name: one.default for one in fields(kind)}
    return {info.name: declared[info.name] for info in fields_of(kind) if not info.required}


def _missing(kind: type[Record], info: FieldInfo, value: object, dossier: Dossier) -> Fault | None:
    """Return what is wrong where a field names a record that is not in the case."""
    if not info.column.refers or not value:
        return None
    nouns = [BY_NOUN[noun] for noun in info.column.refers if noun in BY_NOUN]
    for ref in _refs(value):
        if ref and not any(_counts(dossier, of, ref) for of in nouns):
            named = " or ".join(of.title.lower() for of in nouns)
            near = _near(ref, choices(kind, info, dossier))
            right = f"write {near}, if that is meant, or add it first" if near else "add it first"
            return Fault(info.name, f"there is no {named} “{ref}”", right)
    return None


def _counts(dossier: Dossier, kind: type[Record], label: str) -> bool:
    found = dossier.find(kind, label)
    if found is not None and not found.withdrawn:
        return True
    return len(kind.identity) > 1 and any(name_of(one) == label for one in dossier.all(kind))


def _refs(value: object) -> Iterable[str]:
    return value.refs if isinstance(value, Refs) else (str(value),)


def _near(text: str, words: tuple[str, ...]) -> str:
    from workbench.exchange.field_book.words import near

    return near(text, words)


def _words_of(kind: type[Record], info: FieldInfo) -> tuple[str, ...]:
    from workbench.exchange.field_book.columns import words_of

    return words_of(kind, info)


def _check_units(
    kind: type[Record],
    said: Mapping[str, Any],
    wrong: dict[str, Fault],
    remarks: dict[str, Fault],
) -> None:
    from workbench.exchange.field_book.units import unit_trouble

    measured = str(said.get("quantity") or "")
    for info in fields_of(kind):
        value = said.get(info.name)
        number = value.quantity if isinstance(value, Outcome) else value
        if not isinstance(number, Quantity) or info.name in wrong:
            continue
        if trouble := unit_trouble(kind.noun, info, number.unit, measured):
            told = wrong if trouble.hinders else remarks
            told[info.name] = Fault(info.name, trouble.wrong, trouble.right)
