"""All records of a case at one moment, and the questions they answer by themselves."""

from collections.abc import Iterable
from datetime import UTC, tzinfo
from typing import TypeVar, cast
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from workbench.records.background import Area, CaseEntry, Coat, Location
from workbench.records.codes import Condition, Treatment
from workbench.records.field_tests import PullOff
from workbench.records.kinds import BY_NOUN
from workbench.records.planes import Plane, PlaneKind
from workbench.records.record import UNDONE, Record, Source
from workbench.records.samples import Sample
from workbench.records.speech import spoken

R = TypeVar("R", bound=Record)


class Dossier:
    """An unchanging set of records; every computation, figure and section starts from one."""

    def __init__(self, records: Iterable[Record] = ()) -> None:
        """Sort the records by type, keeping their order within a type."""
        self._by_kind: dict[type[Record], dict[str, Record]] = {}
        self._counting: dict[type[Record], tuple[Record, ...]] = {}
        self._by_label: dict[type[Record], dict[str, Record]] = {}
        self._prepared: frozenset[str] | None = None
        for record in records:
            self._by_kind.setdefault(type(record), {})[record.id] = record

    def all(self, kind: type[R], *, withdrawn: bool = False) -> tuple[R, ...]:
        """Return the records of `kind`; those withdrawn only when asked for."""
        held = self._by_kind.get(kind, {}).values()
        if withdrawn:
            return cast("tuple[R, ...]", tuple(held))
        if kind not in self._counting:
            self._counting[kind] = tuple(one for one in held if not one.withdrawn)
        return cast("tuple[R, ...]", self._counting[kind])

    def with_id(self, kind: type[R], identifier: str) -> R | None:
        """Return the record of `kind` that has the identifier, withdrawn or not."""
        return cast("R | None", self._by_kind.get(kind, {}).get(identifier))

    def everything(self, *, withdrawn: bool = False) -> tuple[Record, ...]:
        """Return the records of all types."""
        return tuple(r for kind in self._by_kind for r in self.all(kind, withdrawn=withdrawn))

    def find(self, kind: type[R], label: str) -> R | None:
        """Return the record of `kind` called `label`: the one that counts, or one withdrawn."""
        if kind not in self._by_label:
            first_last = list(self._by_kind.get(kind, {}).values())[::-1]
            live_last = sorted(first_last, key=_rank)
            self._by_label[kind] = {one.label: one for one in live_last}
        return cast("R | None", self._by_label[kind].get(label))

    def resolve(self, source: Source) -> Record | None:
        """Return the record that `source` names, or None where there is none."""
        kind = BY_NOUN.get(source.noun)
        return self.find(kind, source.label) if kind else None

    def with_records(self, records: Iterable[Record]) -> "Dossier":
        """Return a dossier with `records` added, or put in the place of those with their id."""
        fresh = Dossier(records)
        for kind, labels in self._by_label.items():
            if kind not in fresh._by_kind:
                fresh._by_label[kind] = labels
        merged = {kind: self._by_kind.get(kind, {}) | new for kind, new in fresh._by_kind.items()}
        fresh._by_kind = self._by_kind | merged
        return fresh

    # -- the case as a whole

    def entry(self, key: str) -> str:
        """Return what the case says of `key`, or an empty text."""
        found = self.find(CaseEntry, key)
        return found.value if found and not found.withdrawn else ""

    @property
    def questions(self) -> tuple[str, ...]:
        """The questions put, in their order."""
        asked = [e for e in self.all(CaseEntry) if e.key.startswith("question") and e.value]
        return tuple(e.value for e in sorted(asked, key=lambda e: (len(e.key), e.key)))

    @property
    def zone(self) -> tzinfo:
        """The time zone of the case; UTC where none is said or the name is unknown."""
        try:
            return ZoneInfo(self.entry("time zone")) if self.entry("time zone") else UTC
        except (ZoneInfoNotFoundError, ValueError):
            return UTC

    # -- where

    def area(self, ref: str) -> Area | None:
        """Return the area called `ref`."""
        return self.find(Area, ref)

    def area_at(self, at: str) -> Area | None:
        """Return the area that `at` names: itself, or that of the location or sample `at`."""
        if location := self.find(Location, at):
            return self.area(location.area)
        if sample := self.find(Sample, at):
            parent = sample.at or sample.parent
            return self.area_at(parent) if parent and parent != at else None
        return self.area(at)

    def area_of(self, record: Record) -> Area | None:
        """Return the area that a record speaks of, where it speaks of one."""
        for name in ("location", "at", "sample", "area"):
            at = getattr(record, name, None)
            if isinstance(at, str) and at:
                return self.area_at(at)
        return record if isinstance(record, Area) else None

    def condition_at(self, at: str) -> Condition:
        """Return the condition of the area of `at`; unknown where there is none."""
        area = self.area_at(at)
        return area.condition if area else Condition.UNKNOWN

    # -- on what

    def treatment_of(self, pull: PullOff) -> Treatment | None:
        """Return what was done to a trial patch before a pull-off on it; None off such patches.

        A surface as it was found belongs to a trial only beside one that was prepared, at the
        same location or in an area of nothing but trial patches; elsewhere it is the film as it
        stands.
        """
        if pull.treatment is not Treatment.AS_FOUND:
            return pull.treatment
        if self._prepared is None:
            self._prepared = self._with_trials()
        return pull.treatment if {pull.location, self._area_ref(pull)} & self._prepared else None

    def _with_trials(self) -> frozenset[str]:
        """Return the locations with a prepared patch, and the areas of patches alone with one."""
        pulls = self.all(PullOff)
        prepared = [one for one in pulls if one.treatment not in (None, Treatment.AS_FOUND)]
        mixed = {self._area_ref(one) for one in pulls if one.treatment is None}
        areas = {self._area_ref(one) for one in prepared} - mixed - {""}
        return frozenset({one.location for one in prepared} | areas)

    def _area_ref(self, pull: PullOff) -> str:
        area = self.area_of(pull)
        return area.ref if area else ""

    # -- which layer

    def system_of(self, area: Area | None) -> tuple[Coat, ...]:
        """Return the layers of the system of `area` from the substrate up.

        An area that names no system takes that of the area it lies in, or the only system of
        the case.
        """
        systems = dict.fromkeys(coat.system for coat in self.all(Coat))
        name = area.system if area else ""
        while area and not name and area.within and area.within != area.ref:
            area = self.area(area.within)
            name = area.system if area else ""
        if not name and len(systems) == 1:
            (name,) = systems
        return self.system(name)

    def system(self, name: str) -> tuple[Coat, ...]:
        """Return the layers of the system called `name`, from the substrate up."""
        layers = (coat for coat in self.all(Coat) if coat.system == name)
        return tuple(sorted(layers, key=lambda coat: coat.order))

    def plane_name(self, plane: Plane, system: Iterable[Coat] = ()) -> str:
        """Return a plane in words, never a letter alone: "B/C, body coat to finish"."""
        return f"{plane}, {_in_words(plane, {coat.order: coat for coat in system})}"


def _rank(record: Record) -> int:
    """0 where the adding was undone, 1 where it was withdrawn by a person, 2 where it counts."""
    return 2 if not record.withdrawn else int(record.withdrawn != UNDONE)


_GLUE_WORDS = {"-/Y": "last coat to glue", "Y": "within the glue", "Y/Z": "glue to fixture"}


def _in_words(plane: Plane, coats: dict[int, Coat]) -> str:
    if plane.lower is None or plane.upper is None:
        return _GLUE_WORDS[plane.code]
    lower, upper = _layer_word(plane.lower, coats), _layer_word(plane.upper, coats)
    if plane.kind is PlaneKind.INTERFACE:
        return f"{lower} to {upper}"
    return f"within {lower}"


def _layer_word(order: int, coats: dict[int, Coat]) -> str:
    coat = coats.get(order)
    if order == 0:
        return spoken(coat.material) if coat else "substrate"
    return (coat.product or spoken(coat.material)) if coat else f"coat {order}"
