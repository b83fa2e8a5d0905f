"""Where and which layer: what part of the case is looked at, and which records belong to it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from workbench.records import (
    Application,
    Area,
    AreaEvent,
    Breaks,
    Coat,
    Dossier,
    Face,
    Location,
    Plane,
    Record,
    Refs,
    Sample,
    Thickness,
    Weather,
    fields_of,
)

_PLACE_FIELDS = ("location", "at", "sample", "area", "parent")
_WHOLE_WHEN_BLANK = (Weather, AreaEvent)


@dataclass(frozen=True, slots=True)
class Focus:
    """The part of the case that is looked at.

    Attributes:
        places: Refs of areas, locations and samples; empty for everywhere.
        plane: The plane; None for the whole stack.
    """

    places: frozenset[str] = frozenset()
    plane: Plane | None = None

    @property
    def everything(self) -> bool:
        """Whether nothing is left out."""
        return not self.places and self.plane is None

    def words(self, dossier: Dossier) -> str:
        """Return what is looked at in words: "Bay 3, C/D, body coat to seal coat"."""
        said = [", ".join(place_words(dossier, ref) for ref in sorted(self.places))]
        if self.plane:
            areas = (dossier.area_at(ref) for ref in sorted(self.places))
            area = next((one for one in areas if one), None)
            said.append(dossier.plane_name(self.plane, dossier.system_of(area)))
        return " · ".join(part for part in said if part)


def place_words(dossier: Dossier, ref: str) -> str:
    """Return what a person calls the place `ref`: the name of an area, or the ref itself."""
    area = dossier.area(ref)
    if not area:
        return ref
    return area.name if area.name.casefold() == ref.casefold() else f"{ref} {area.name}"


class FocusIndex:
    """Which records of a dossier speak of which places and planes."""

    def __init__(self, dossier: Dossier) -> None:
        """Look at nothing yet; a record is looked up once, when it is first asked about."""
        self._dossier = dossier
        self._places: dict[str, frozenset[str] | None] = {}
        self._planes: dict[str, frozenset[str] | None] = {}
        self._chains: dict[str, frozenset[str]] = {}

    def takes(self, focus: Focus, record: Record) -> bool:
        """Return whether `record` belongs to `focus`.

        A record whose type speaks of no place belongs to every place, and one whose type speaks
        of no layer belongs to every plane.
        """
        if focus.places:
            places = self.places_of(record)
            if places is not None and focus.places.isdisjoint(places):
                return False
        if focus.plane:
            planes = self.planes_of(record)
            return planes is None or focus.plane.code in planes
        return True

    def places_of(self, record: Record) -> frozenset[str] | None:
        """Return every place that `record` lies in; None where its type speaks of none."""
        if record.id not in self._places:
            self._places[record.id] = self._find_places(record)
        return self._places[record.id]

    def planes_of(self, record: Record) -> frozenset[str] | None:
        """Return the codes of the planes that `record` speaks of; None where it never does."""
        if record.id not in self._planes:
            codes = _plane_codes(record)
            self._planes[record.id] = None if codes is None else frozenset(codes)
        return self._planes[record.id]

    def _find_places(self, record: Record) -> frozenset[str] | None:
        if isinstance(record, Area | Location | Sample):
            return self._chain(record.ref)
        names = _names(type(record))
        named = [name for name in _PLACE_FIELDS if name in names]
        if not named:
            return None
        refs = [ref for name in named for ref in _refs(getattr(record, name))]
        if not refs and isinstance(record, _WHOLE_WHEN_BLANK):
            return None
        if len(refs) == 1:
            return self._chain(refs[0])
        return frozenset(place for ref in refs for place in self._chain(ref))

    def _chain(self, ref: str) -> frozenset[str]:
        """Return `ref` and every place around it."""
        if ref not in self._chains:
            self._chains[ref] = frozenset(_outwards(self._dossier, ref))
        return self._chains[ref]


def _outwards(dossier: Dossier, ref: str) -> Iterator[str]:
    seen: set[str] = set()
    while ref and ref not in seen:
        seen.add(ref)
        yield ref
        sample, location = dossier.find(Sample, ref), dossier.find(Location, ref)
        area = dossier.area(ref)
        if sample:
            ref = sample.at or sample.parent
        elif location:
            ref = location.area
        else:
            ref = area.within if area else ""


_FIELDS: dict[type[Record], frozenset[str]] = {}


def _names(kind: type[Record]) -> frozenset[str]:
    """Return the names of a type's fields, found out once."""
    if kind not in _FIELDS:
        _FIELDS[kind] = frozenset(info.name for info in fields_of(kind))
    return _FIELDS[kind]


def _refs(value: object) -> Iterable[str]:
    if isinstance(value, Refs):
        return value.refs
    return (value,) if isinstance(value, str) and value else ()


def _plane_codes(record: Record) -> list[str] | None:
    for name in ("breaks", "plane", "face"):
        if name in _names(type(record)):
            return list(_codes_in(getattr(record, name)))
    if isinstance(record, Thickness):
        return _codes_of_layer(int(record.layer)) if record.layer.isdecimal() else []
    if isinstance(record, Application):
        return _codes_of_layer(record.coat)
    return _codes_of_layer(record.order) if isinstance(record, Coat) else None


def _codes_in(value: object) -> Iterator[str]:
    if isinstance(value, Breaks):
        yield from (s.plane.code for s in value.shares if s.plane and s.percent != 0)
    elif isinstance(value, Plane):
        yield value.code
    elif isinstance(value, Face) and value.plane:
        yield value.plane.code


def _codes_of_layer(order: int) -> list[str]:
    """Return the planes that a layer takes part in: within it, below it and above it."""
    below = [Plane.above(order - 1).code] if order > 0 else []
    return [*below, Plane.within(order).code, Plane.above(order).code]
