"""Which rows of a book and records of a case are the same, and in what they differ.

They are matched by their ref, else by their identity; where several share it, equal ones first
and the rest in their order.
"""

from collections import defaultdict
from collections.abc import Iterator

from workbench.exchange.field_book.cells import clean_lines
from workbench.exchange.field_book.world import name_of
from workbench.records import (
    UNDONE,
    CustodyEntry,
    Dossier,
    FieldInfo,
    Outcome,
    Quantity,
    Record,
    fields_of,
)


def standing(case: Dossier, kind: type[Record]) -> list[Record]:
    """Return the records that rows may be the same as, those that count first.

    Of custody entries only those that no other one corrects; what was added and undone is as if
    it had not been.
    """
    held = [one for one in case.all(kind, withdrawn=True) if one.withdrawn != UNDONE]
    corrected = {one.corrects for one in held if isinstance(one, CustodyEntry)} - {""}
    return sorted((one for one in held if one.id not in corrected), key=lambda o: bool(o.withdrawn))


def pairs(rows: list[Record], held: list[Record]) -> Iterator[tuple[Record, Record | None]]:
    """Return each row with the record that it is the same as."""
    partner: dict[int, Record] = {}
    for name in (name_of, _nameless):
        taken = {one.id for one in partner.values()}
        by_name: dict[tuple[str, ...], list[Record]] = defaultdict(list)
        for one in held:
            if one.id not in taken and name(one):
                by_name[name(one)].append(one)
        for only_equal in (True, False):
            for at, row in enumerate(rows):
                namesakes = by_name.get(name(row), [])
                if at not in partner and (same := _same(row, namesakes, only_equal)):
                    namesakes.remove(same)
                    partner[at] = same
    return ((row, partner.get(at)) for at, row in enumerate(rows))


def _same(row: Record, namesakes: list[Record], only_equal: bool) -> Record | None:
    if not only_equal:
        return namesakes[0] if namesakes else None
    equal = (one for one in namesakes if not one.withdrawn and not differing(one, row))
    return next(equal, None)


def _nameless(record: Record) -> tuple[str, ...]:
    """Return the identity without the ref, for a record that got its ref later."""
    names = [name for name in type(record).identity if name != "ref"]
    return tuple(str(getattr(record, name) or "") for name in names)


def differing(old: Record, new: Record) -> tuple[FieldInfo, ...]:
    """Return the fields of the book that say something else."""
    infos = (info for info in fields_of(type(old)) if info.column.in_book)
    said = ((info, getattr(old, info.name), getattr(new, info.name)) for info in infos)
    return tuple(
        info for info, was, now in said if was != now and _plain(info, was) != _plain(info, now)
    )


def _plain(info: FieldInfo, value: object) -> object:
    """Return a value without what says nothing: stray spaces, a unit that the heading gives."""
    if isinstance(value, Quantity):
        return Quantity(value.text, value.unit or info.column.unit)
    if isinstance(value, Outcome) and value.quantity:
        number = value.quantity
        return Outcome(quantity=Quantity(number.text, number.unit or info.column.unit))
    return clean_lines(value) if type(value) is str else value
