"""Field books as folders of CSV files, read into records with every problem said."""

import csv
from pathlib import Path
from typing import Any

from workbench.records import (
    FIELD_BOOK,
    Dossier,
    FieldInfo,
    NotUnderstoodError,
    Outcome,
    Quantity,
    Record,
    Refs,
    fields_of,
)
from workbench.records.codes import OPEN_PREFIXES

SAMPLE_CASES = Path(__file__).parents[2] / "sample_cases"


def read(folder: Path) -> tuple[Dossier, list[str]]:
    """Return the records of a book, and what is wrong with it in one line each."""
    records: list[Record] = []
    wrong: list[str] = []
    for kind in FIELD_BOOK:
        path = folder / f"{kind.sheet}.csv"
        if not path.exists():
            continue
        with path.open(encoding="utf-8", newline="") as file:
            for line, row in enumerate(csv.DictReader(file), 2):
                place = f"{kind.sheet}:{line}"
                try:
                    records.append(_record(kind, row))
                except (NotUnderstoodError, ValueError, TypeError) as why:
                    wrong.append(f"{place}: {why}")
    return Dossier(records), wrong + _inside(records) + _dangling(records) + _files(folder, records)


def _record(kind: type[Record], row: dict[str, str]) -> Record:
    said = {}
    for info in fields_of(kind):
        text = (row.get(info.column.heading) or "").strip()
        if text:
            said[info.name] = _typed(info, text, row)
    return kind(**said)


def _typed(info: FieldInfo, text: str, row: dict[str, str]) -> Any:
    column = info.column
    strange = column.words and not column.open_words and text not in column.words
    if strange and not text.startswith(OPEN_PREFIXES):
        raise ValueError(f"{column.heading} “{text}” is no word of the list")
    if not hasattr(info.type, "read"):
        return info.type(text)
    value = info.type.read(text)
    unit = column.unit or (row[column.unit_heading].strip() if column.unit_heading else "")
    if isinstance(value, Quantity) and not value.unit:
        return Quantity(value.text, unit)
    if isinstance(value, Outcome) and value.quantity and not value.unit:
        return Outcome(quantity=Quantity(value.quantity.text, unit))
    return value


def _inside(records: list[Record]) -> list[str]:
    faults = [f"{one.source}: {f.wrong}" for one in records for f in one.faults()]
    seen: set[str] = set()
    for one in records:
        if str(one.source) in seen:
            faults.append(f"{one.source}: stands twice")
        seen.add(str(one.source))
    return faults


def _dangling(records: list[Record]) -> list[str]:
    known = {(one.noun, one.label) for one in records}
    known |= {(one.noun, getattr(one, "ref", "")) for one in records}
    found = []
    for one in records:
        for info in fields_of(type(one)):
            said = getattr(one, info.name)
            refs = said.refs if isinstance(said, Refs) else (said,)
            if info.column.refers:
                found += [
                    f"{one.source}: {info.name} “{ref}” is not there"
                    for ref in refs
                    if ref and not any((noun, ref) in known for noun in info.column.refers)
                ]
    return found


def _files(folder: Path, records: list[Record]) -> list[str]:
    named = [(one, getattr(one, "file", "")) for one in records]
    return [
        f"{one.source}: no file {name}"
        for one, name in named
        if name and not (folder / name).is_file()
    ]
