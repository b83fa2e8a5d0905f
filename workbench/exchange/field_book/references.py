"""Names that rows call each other by: known, unambiguous, given once, never in a circle."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import islice

from workbench.exchange.field_book.rows import Entry
from workbench.exchange.field_book.words import did_you_mean
from workbench.exchange.field_book.world import World, name_of
from workbench.records import (
    BY_NOUN,
    Area,
    FieldInfo,
    Photo,
    Problem,
    Record,
    Refs,
    Sample,
    fields_of,
)

MOST_STRANGERS = 20
"""Unknown names of one column that are told one by one."""


def check_references(world: World) -> Iterator[Problem]:
    """Return names that stand twice, that nothing bears, or that go round in a circle."""
    yield from _twice(world)
    yield from _alike(world)
    yield from _unknown(world)
    yield from _circles(world, Area, "within")
    yield from _circles(world, Sample, "parent")


def _twice(world: World) -> Iterator[Problem]:
    first: dict[tuple[str, tuple[str, ...]], Entry] = {}
    for entry in world.entries:
        record = entry.record
        name = (record.noun, name_of(record))
        earlier = first.setdefault(name, entry)
        if earlier is entry:
            continue
        has_ref = bool(getattr(record, "ref", ""))
        heading = "ref" if has_ref else next(n for n in type(record).identity if n != "ref")
        wrong = f"“{record.label}” stands in row {earlier.row} already"
        if has_ref or not (type(record).repeats or type(record).ledger):
            yield entry.problem(heading, wrong, "give each its own name, or keep one of the rows")
        elif _say_the_same(earlier.record, record):
            right = "both rows are taken in; keep one if they are one"
            wrong = f"the row says the same as row {earlier.row}"
            yield entry.problem(heading, wrong, right, hinders=False)


def _alike(world: World) -> Iterator[Problem]:
    """Return refs that differ only in capital letters from one before."""
    first: dict[tuple[str, str], Entry] = {}
    for entry in world.entries:
        ref = str(getattr(entry.record, "ref", ""))
        earlier = first.setdefault((entry.record.noun, ref.casefold()), entry)
        other = str(getattr(earlier.record, "ref", ""))
        if ref and ref != other:
            wrong = f"“{ref}” differs only in capitals from “{other}” in row {earlier.row}"
            yield entry.problem("ref", wrong, "they are taken as two", hinders=False)


def _say_the_same(one: Record, other: Record) -> bool:
    names = [info.name for info in fields_of(type(one))]
    return all(getattr(one, name) == getattr(other, name) for name in names)


def _unknown(world: World) -> Iterator[Problem]:
    """Return each name that nothing bears once for its column, at the first cell."""
    names = _names(world)
    gone = _withdrawn(world)
    for info, said in _said(world):
        nouns = info.column.refers
        if world.unread.intersection(nouns):
            continue
        borne = set[str]().union(*(names[noun] for noun in nouns))
        strangers = {name: entries for name, entries in said.items() if name not in borne}
        if strangers and not borne:
            first = next(iter(strangers.values()))[0]
            yield first.problem(info.name, *_nothing_to_name(nouns))
            continue
        for name, entries in islice(strangers.items(), MOST_STRANGERS):
            yield _stranger(info, name, entries, borne, gone)
        if rest := list(islice(strangers.values(), MOST_STRANGERS, None)):
            wrong = f"{len(rest)} more names of the column are not known"
            yield rest[0][0].problem(info.name, wrong, "add them, or name those that are there")
        if set(nouns) >= {"location", "area"}:
            both = names["location"] & names["area"] & said.keys()
            for name in both:
                wrong = f"“{name}” is both a location and an area"
                right = "the location is meant; rename one of the two"
                yield said[name][0].problem(info.name, wrong, right, hinders=False)


def _said(world: World) -> Iterator[tuple[FieldInfo, dict[str, list[Entry]]]]:
    """Return for each column that refers to something the names in it, with their rows."""
    found: dict[tuple[str, str], dict[str, list[Entry]]] = defaultdict(lambda: defaultdict(list))
    infos: dict[tuple[str, str], FieldInfo] = {}
    for entry in world.entries:
        for info in _referring(type(entry.record)):
            key = (entry.sheet, info.name)
            infos[key] = info
            for name in _parts(info, getattr(entry.record, info.name)):
                found[key][name].append(entry)
    for key, said in found.items():
        yield infos[key], said


def _referring(kind: type[Record]) -> tuple[FieldInfo, ...]:
    return tuple(info for info in fields_of(kind) if info.column.refers and info.column.in_book)


def _parts(info: FieldInfo, value: object) -> tuple[str, ...]:
    """Return the names in a cell: none, one, or several where the column takes several."""
    if isinstance(value, Refs):
        return value.refs
    said = str(value or "").split(";") if info.name == "photo" else [str(value or "")]
    return tuple(part.strip() for part in said if part.strip())


def _names(world: World) -> Mapping[str, set[str]]:
    names: dict[str, set[str]] = defaultdict(set)
    for noun, refs in world.refs.items():
        names[noun] |= refs
    for record in world.both.everything():
        names[record.noun].update(_borne(record))
    return names


def _borne(record: Record) -> tuple[str, ...]:
    return (record.ref, record.file) if isinstance(record, Photo) else (record.label,)


def _withdrawn(world: World) -> set[str]:
    everything = world.case.everything(withdrawn=True)
    return {name for record in everything if record.withdrawn for name in _borne(record)}


def _nothing_to_name(nouns: tuple[str, ...]) -> tuple[str, str]:
    sheets = " or ".join(BY_NOUN[noun].sheet for noun in nouns)
    wrong = f"there is nothing to refer to: neither book nor case has {sheets}"
    return wrong, f"fill in the sheet {sheets}"


def _stranger(
    info: FieldInfo, name: str, entries: list[Entry], borne: set[str], gone: set[str]
) -> Problem:
    """Return that nothing bears `name`, with the name that was most likely meant."""
    what = " or ".join(BY_NOUN[noun].title.lower() for noun in info.column.refers)
    more = f" (and {len(entries) - 1} more of the column)" if len(entries) > 1 else ""
    if name in gone:
        wrong = f"{what} “{name}” was withdrawn from the case{more}"
        return entries[0].problem(info.name, wrong, "name one that counts, or bring it back")
    sheets = " or ".join(BY_NOUN[noun].sheet for noun in info.column.refers)
    otherwise = f"add it to the sheet {sheets}, or name one that is there"
    right = did_you_mean(name, borne, otherwise, cutoff=0.75)
    return entries[0].problem(info.name, f"there is no {what} “{name}”{more}", right)


def _circles(world: World, kind: type[Record], field: str) -> Iterator[Problem]:
    """Return records that lie in, or come from, themselves by way of others."""
    above = {one.label: str(getattr(one, field)) for one in world.both.all(kind)}
    for entry in world.entries:
        if type(entry.record) is not kind:
            continue
        at, seen = above.get(entry.record.label, ""), set[str]()
        while at and at not in seen and at != entry.record.label:
            seen.add(at)
            at = above.get(at, "")
        if at == entry.record.label:
            wrong = f"“{at}” leads back to itself"
            yield entry.problem(field, wrong, "name another one, or leave it blank")
