"""The case seen from one side: where the coating fails, where it looks sound, or the controls.

Every rule that derives a finding asks a scene for records, so that the same rule can be put to
the failing and to the sound side and the two compared.
"""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property
from typing import Any, TypeVar, cast

from workbench.reasoning.settings import Settings
from workbench.records import (
    Area,
    Coat,
    Dossier,
    Features,
    LabResult,
    Limit,
    Location,
    Measurement,
    Record,
    Sample,
    Source,
    SurveyEntry,
)
from workbench.records.codes import Condition, Purpose
from workbench.trade.showing import Showing

R = TypeVar("R", bound=Record)
T = TypeVar("T")


class Ground(StrEnum):
    """Which side of a case a scene shows."""

    FAILING = "failing areas"
    SOUND = "areas that look sound"
    CONTROL = "control areas"


_CONDITION = {
    Ground.FAILING: Condition.FAILING,
    Ground.SOUND: Condition.NON_FAILING,
    Ground.CONTROL: Condition.CONTROL,
}
_PURPOSE = {
    Purpose.FAILING: Condition.FAILING,
    Purpose.NON_FAILING: Condition.NON_FAILING,
    Purpose.CONTROL: Condition.CONTROL,
}
_NO_SIDE = (Purpose.REFERENCE, Purpose.BLANK, Purpose.TEST_PANEL)


@dataclass(frozen=True)
class Scene:
    """One side of a case.

    Attributes:
        dossier: All records.
        settings: The thresholds.
        ground: The side.
        within: Whether a spot, named as records name it, belongs to the place looked at; only
            the failing side is divided into places.
        showing: The units in which findings tell their numbers.
    """

    dossier: Dossier
    settings: Settings
    ground: Ground = Ground.FAILING
    within: Callable[[str], bool] = lambda _: True
    showing: Showing = field(default_factory=Showing)
    sides: dict[Ground, "Scene"] = field(default_factory=dict, compare=False, repr=False)

    def on(self, ground: Ground) -> "Scene":
        """Return the same case seen from another side; each side is made once."""
        if ground is self.ground:
            return self
        self.sides.setdefault(self.ground, self)
        if ground not in self.sides:
            self.sides[ground] = replace(self, ground=ground)
        return self.sides[ground]

    @cached_property
    def _held(self) -> dict[Hashable, Any]:
        return {}

    def once(self, name: Hashable, make: Callable[[], T]) -> T:
        """Return what `make` gives, made once for this side."""
        if name not in self._held:
            self._held[name] = make()
        return cast("T", self._held[name])

    @cached_property
    def failing(self) -> "Scene":
        """The failing side."""
        return self.on(Ground.FAILING)

    @cached_property
    def sound(self) -> "Scene":
        """The side that looks sound: non-failing areas, or controls where there are none."""
        held = self.on(Ground.SOUND)
        return held if held.areas else self.on(Ground.CONTROL)

    @cached_property
    def control(self) -> "Scene":
        """The control areas."""
        return self.on(Ground.CONTROL)

    # -- where

    @cached_property
    def areas(self) -> tuple[Area, ...]:
        """The areas of this side; one whose parts are recorded on this side is its parts."""
        held = [a for a in self.dossier.all(Area) if a.condition is _CONDITION[self.ground]]
        divided = {area.within for area in held}
        held = [area for area in held if area.ref not in divided]
        if self.ground is Ground.FAILING:
            held = [area for area in held if self._reaches(area)]
        return tuple(held)

    @cached_property
    def divided(self) -> tuple[Area, ...]:
        """The areas of this side that are counted through their parts."""
        held = {area.within for area in self.areas}
        return tuple(
            area for area in self.dossier.all(Area)
            if area.ref in held and area.condition is _CONDITION[self.ground]
        )  # fmt: skip

    def _reaches(self, area: Area) -> bool:
        spots = [one.ref for one in self.dossier.all(Location) if one.area == area.ref]
        return any(self.within(spot) for spot in (area.ref, *spots))

    def condition_of(self, record: Record) -> Condition | None:
        """Return the condition that a record speaks for; None where it speaks for none."""
        sample = self._sample(record)
        if sample is None:
            area = self.dossier.area_of(record)
            return area.condition if area else None
        purpose = self._purpose(sample)
        if purpose in _NO_SIDE:
            return None
        if purpose in _PURPOSE:
            return _PURPOSE[purpose]
        area = self.dossier.area_of(sample)
        return area.condition if area else None

    def _sample(self, record: Record) -> Sample | None:
        if isinstance(record, Sample):
            return record
        label = getattr(record, "sample", "")
        return self.dossier.find(Sample, label) if label else None

    def _purpose(self, sample: Sample) -> Purpose | None:
        seen = set()
        held: Sample | None = sample
        while held and held.ref not in seen:
            if held.purpose and held.purpose is not Purpose.DUPLICATE:
                return held.purpose
            seen.add(held.ref)
            held = self.dossier.find(Sample, held.parent) if held.parent else None
        return None

    def shows(self, record: Record) -> bool:
        """Return whether a record belongs to this side (and, if failing, to the place)."""
        if self.condition_of(record) is not _CONDITION[self.ground]:
            return False
        return self.ground is not Ground.FAILING or self._in_place(record)

    def _in_place(self, record: Record) -> bool:
        held: Record | None = self._sample(record) or record
        while isinstance(held, Sample) and not held.at and held.parent:
            held = self.dossier.find(Sample, held.parent)
        spots = [getattr(held, name, "") for name in ("location", "at", "area")]
        named = [spot for spot in spots if isinstance(spot, str) and spot]
        return not named or self.within(named[0])

    # -- records

    def all(self, kind: type[R]) -> tuple[R, ...]:
        """Return the records of `kind` that belong to this side."""
        held = (one for one in self.dossier.all(kind) if self.shows(one))
        return self.once(("all", kind.noun), lambda: tuple(held))

    def measured(self, *quantities: str) -> tuple[Measurement, ...]:
        """Return the measurements of these quantities on this side."""
        return tuple(one for one in self.all(Measurement) if one.quantity in quantities)

    def lab(self, *quantities: str) -> tuple[LabResult, ...]:
        """Return the laboratory results for these quantities; `eds:` is all that begin so."""
        return tuple(one for one in self.all(LabResult) if _matches(one.quantity, quantities))

    def signs(self, *forms: str) -> tuple[SurveyEntry, ...]:
        """Return the survey entries for these forms or signs on this side."""
        return tuple(one for one in self.all(SurveyEntry) if one.form in forms)

    # -- what a place is

    def features(self, at: str) -> dict[str, str]:
        """Return the features of a spot: its own, then those of its areas from the inside out."""
        return self.once(("features", at), lambda: self._features(at))

    def _features(self, at: str) -> dict[str, str]:
        held: dict[str, str] = {}
        location = self.dossier.find(Location, at)
        if location and location.features:
            held |= dict(location.features.items)
        area = self.dossier.area_at(at)
        for one in self.with_ancestors(area):
            held = _said(one.features) | held
        return held

    def tag(self, at: str, name: str) -> bool | None:
        """Return whether a spot has a feature; None where nobody said so."""
        value = self.features(at).get(name)
        return None if value is None else value != "no"

    def with_ancestors(self, area: Area | None) -> tuple[Area, ...]:
        """Return an area and those it lies in, from the inside out."""
        held: list[Area] = []
        while area and area not in held:
            held.append(area)
            area = self.dossier.area(area.within) if area.within else None
        return tuple(held)

    def parts_of(self, area: Area) -> tuple[Area, ...]:
        """Return the areas that lie in `area`, however deep and whatever their condition."""
        return tuple(
            one
            for one in self.dossier.all(Area)
            if one.ref != area.ref and area in self.with_ancestors(one)
        )

    def system(self, area: Area | None = None) -> tuple[Coat, ...]:
        """Return the layers of the system of `area`, or of the first area of this side."""
        return self.dossier.system_of(area or next(iter(self.areas), None))

    @cached_property
    def systems(self) -> tuple[tuple[Coat, ...], ...]:
        """The systems of the areas of this side, each once."""
        return tuple(dict.fromkeys(self.dossier.system_of(area) for area in self.areas))

    def coat(self, area: Area | None, order: int) -> Coat | None:
        """Return the layer of that order in the system of `area`."""
        return next((one for one in self.system(area) if one.order == order), None)

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """The areas of this side as sources, for what is said of silence."""
        return tuple(area.source for area in self.areas)

    # -- what is required

    def limit(
        self, *quantities: str, area: Area | None = None, coat: Coat | None = None, method: str = ""
    ) -> Limit | None:
        """Return the requirement that fits best: for the coat, its product, the area, the system.

        A requirement by another method than `method` does not fit; one without a method does.
        """
        names = self._names(area, coat)
        fits = [
            (names.index(one.applies_to), bool(method) and one.method != method, at)
            for at, one in enumerate(self.dossier.all(Limit))
            if one.quantity in quantities
            and one.applies_to in names
            and (not method or one.method in ("", method))
        ]
        return self.dossier.all(Limit)[min(fits)[2]] if fits else None

    def _names(self, area: Area | None, coat: Coat | None) -> list[str]:
        areas = self.with_ancestors(area or next(iter(self.areas), None))
        system = self.system(area)
        names = [one.ref for one in areas]
        names += [f"{coat.system}:{coat.order}", coat.product] if coat else []
        names += [one.system for one in system[:1]]
        if coat is None:
            names += [f"{one.system}:{one.order}" for one in system]
            names += [one.product for one in system if one.product]
        return [*dict.fromkeys(name for name in names if name), ""]


def _said(features: Features | None) -> dict[str, str]:
    return dict(features.items) if features else {}


def _matches(quantity: str, wanted: Iterable[str]) -> bool:
    return any(
        quantity == one or (one.endswith(":") and quantity.startswith(one)) for one in wanted
    )
