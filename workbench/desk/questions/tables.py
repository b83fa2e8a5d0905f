"""Records as a table: which columns a type has, what a cell says, and how it sorts."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from operator import attrgetter
from typing import TYPE_CHECKING, Any, cast

from workbench.records import (
    Dossier,
    FieldInfo,
    LabResult,
    Measurement,
    Outcome,
    Plane,
    PullOff,
    Quantity,
    Rating,
    Readings,
    Record,
    Refs,
    Source,
    Thickness,
    When,
    fields_of,
)
from workbench.records.codes import Condition
from workbench.trade.register import test_name
from workbench.trade.showing import STRESS, Bound, Showing, in_si

if TYPE_CHECKING:
    from workbench.analysis.doubts import Doubt
    from workbench.trade.pull_off import Stress

SortKey = tuple[int, float, tuple[tuple[int, str], ...]]
_NUMBERS = (Quantity, int)
_MOSTLY = 50.0
"""Percent in the glue above which a pull-off is a lower bound; common practice, no source."""
_WANTED: dict[type[Record], tuple[str, ...]] = {
    PullOff: ("breaks", "came_away", "reading"),
    Rating: ("rating", "method", "plane"),
    Thickness: ("layer", "readings"),
    Measurement: ("quantity", "value", "plane", "method"),
    LabResult: ("quantity", "value", "face", "control"),
}
"""What a reader of a type looks for first, besides its name and place."""
_METHODS = frozenset({"method", "technique"})
"""Fields that say by which test something was found."""
_CODES = re.compile("[a-z0-9]+(_[a-z0-9]+)+")


@dataclass(frozen=True, slots=True)
class TableColumn:
    """One column.

    Attributes:
        heading: What stands above it.
        text: What a cell says of a record.
        key: What a record is sorted by; blanks come last.
        number: Whether it holds numbers, which stand at the right.
        field: Name of the field that it shows; empty where the column is computed.
        condition: Whether its words are conditions.
        named: Whether it says more than its field: the name of a plane beside its letters.
    """

    heading: str
    text: Callable[[Record], str]
    key: Callable[[Record], SortKey]
    number: bool = False
    field: str = ""
    condition: bool = False
    named: bool = False

    def is_blank(self, records: Sequence[Record]) -> bool:
        """Return whether no record says anything here; computed columns always may."""
        if not self.field:
            return False
        said = attrgetter(self.field)
        # 0 is said too; only where nothing else is, the values are few enough to be looked at
        return not any(map(said, records)) and set(map(said, records)) <= {None, ""}


def columns_of(
    dossier: Dossier,
    kind: type[Record],
    showing: Showing,
    doubts: "Mapping[Source, tuple[Doubt, ...]] | None" = None,
    stresses: "Mapping[str, Stress] | None" = None,
) -> tuple[TableColumn, ...]:
    """Return the columns of the table of `kind`.

    Those that a reader looks for come first: what the record is called, where it lies, and what
    follows from it. Then come the other fields in their order.

    Args:
        dossier: The case.
        kind: The record type.
        showing: Units that numbers are shown in.
        doubts: What is doubtful about single records; None while nobody has looked.
        stresses: The stress of each pull-off by its identifier; None while it is not computed.
    """
    fields = {info.name: info for info in fields_of(kind)}
    own = {
        name: _plane_column(dossier, info) if info.type is Plane else _field_column(info, showing)
        for name, info in fields.items()
    }
    named = [own.pop(name) for name in kind.identity if name in own]
    places = [own.pop(name) for name in ("location", "at", "sample", "area") if name in own]
    follows = [*_computed(dossier, kind)]
    if kind is PullOff:
        follows.append(_stress_column(showing, stresses or {}))
    wanted = [own.pop(name) for name in _WANTED.get(kind, ()) if name in own]
    if kind is PullOff:
        wanted.insert(1, _parted_column(dossier))
    doubtful = [_doubts_column(doubts)] if doubts and _in_doubt(kind, doubts) else []
    return (*named, *places, *follows, *wanted, *doubtful, *own.values())


def words(value: object) -> str:
    """Return a value as it stands in a table: a code without its underscores, a blank as ""."""
    if value is None:
        return ""
    text = str(value)
    return text.replace("_", " ") if isinstance(value, StrEnum) or _CODES.fullmatch(text) else text


def natural(text: str) -> SortKey:
    """Return a sort key by which P-2 stands before P-10, and a blank stands last."""
    parts = tuple(
        (int(part), "") if part.isdecimal() else (-1, part)
        for part in re.split(r"(\d+)", text.casefold())
        if part
    )
    return (0 if text else 1, 0.0, parts)


def _number_key(value: float | None) -> SortKey:
    return (1, 0.0, ()) if value is None else (0, value, ())


def _field_column(info: FieldInfo, showing: Showing) -> TableColumn:
    unit = info.column.unit

    def value_of(record: Record) -> Any:  # noqa: ANN401 - any field of any record
        return getattr(record, info.name)

    def text(record: Record) -> str:
        value = value_of(record)
        if isinstance(value, Quantity):
            return showing.quantity(value, unit)
        if isinstance(value, Outcome):
            return showing.outcome(value, getattr(record, "qualifier", None), unit)
        if isinstance(value, Readings):
            return showing.readings(value, getattr(record, "unit", ""))
        if info.name in _METHODS and isinstance(value, str):
            return test_name(value)
        return words(value)

    return TableColumn(
        heading=info.column.heading,
        text=text,
        key=lambda record: sort_key(value_of(record), unit),
        number=info.type in _NUMBERS,
        field=info.name,
        condition=info.type is Condition,
    )


def sort_key(value: object, unit: str = "") -> SortKey:
    """Return what a field's value sorts by: numbers in one unit, dates in time, words naturally."""
    if isinstance(value, Outcome):
        value = value.quantity or value.word
    if isinstance(value, Readings):
        return _number_key(value.average)
    if isinstance(value, Quantity):
        return _number_key(in_si(value, unit))
    if isinstance(value, int):
        return _number_key(value)
    if isinstance(value, When):
        return (0, value.start().timestamp(), ())
    return natural(words(value))


def _computed(dossier: Dossier, kind: type[Record]) -> tuple[TableColumn, ...]:
    names = {info.name for info in fields_of(kind)}
    made: list[TableColumn] = []
    if not names.isdisjoint({"location", "at", "sample"}):
        made.append(_area_column(dossier))
    if "condition" not in names and not names.isdisjoint({"location", "at", "sample", "area"}):
        made.append(_condition_column(dossier))
    return tuple(made)


def _column(heading: str, text: Callable[[Record], str], *, condition: bool = False) -> TableColumn:
    return TableColumn(heading, text, lambda record: natural(text(record)), condition=condition)


def _area_column(dossier: Dossier) -> TableColumn:
    def text(record: Record) -> str:
        area = dossier.area_of(record)
        return area.ref if area else ""

    return _column("area", text)


def _condition_column(dossier: Dossier) -> TableColumn:
    def text(record: Record) -> str:
        named = getattr(record, "area", None)
        if isinstance(named, Refs):
            return ", ".join(dict.fromkeys(str(dossier.condition_at(ref)) for ref in named))
        area = dossier.area_of(record)
        return str(area.condition) if area else ""

    return _column("condition", text, condition=True)


def _stress_column(showing: Showing, stresses: "Mapping[str, Stress]") -> TableColumn:
    def bound(pull: PullOff, stress: "Stress") -> Bound:
        if stress.at_most:
            return Bound.AT_MOST
        glued = pull.breaks is not None and pull.breaks.glue > _MOSTLY
        return Bound.AT_LEAST if glued else Bound.NONE

    def text(record: Record) -> str:
        pull, stress = cast("PullOff", record), stresses.get(record.id)
        if stress is None or stress.mpa is None:
            return ""
        return showing.stress(stress.mpa, bound=bound(pull, stress), unit=False)

    def key(record: Record) -> SortKey:
        stress = stresses.get(record.id)
        return _number_key(stress.mpa if stress else None)

    return TableColumn(f"stress {showing.unit(STRESS)}", text, key, number=True)


def _plane_column(dossier: Dossier, info: FieldInfo) -> TableColumn:
    """Return the column of a plane, named as the system of the record's area names it."""

    def text(record: Record) -> str:
        plane = getattr(record, info.name)
        if not isinstance(plane, Plane):
            return ""
        return dossier.plane_name(plane, dossier.system_of(dossier.area_of(record)))

    return TableColumn(
        info.column.heading, text, lambda record: natural(text(record)), field=info.name,
        named=True,
    )  # fmt: skip


def _parted_column(dossier: Dossier) -> TableColumn:
    """Return the column that says in words where a pull-off broke, the largest share first."""

    def text(record: Record) -> str:
        breaks = cast("PullOff", record).breaks
        shares = [one for one in (breaks.shares if breaks else ()) if one.plane]
        shares.sort(key=lambda one: -(one.percent or 0))
        system = dossier.system_of(dossier.area_of(record))
        named = (dossier.plane_name(one.plane, system) for one in shares if one.plane)
        return "; ".join(name.partition(", ")[2] for name in named)

    return _column("broke", text)


def _in_doubt(kind: type[Record], doubts: "Mapping[Source, tuple[Doubt, ...]]") -> bool:
    return any(source.noun == kind.noun for source in doubts)


def _doubts_column(doubts: "Mapping[Source, tuple[Doubt, ...]]") -> TableColumn:
    """Return the column of doubts: the open ones by their rules, answered ones counted."""

    def text(record: Record) -> str:
        about = doubts.get(record.source, ())
        said = [str(one.rule) for one in about if one.is_open]
        answered = len(about) - len(said)
        return "; ".join([*said, *([f"{answered} answered"] if answered else [])])

    return _column("doubts", text)
