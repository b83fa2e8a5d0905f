"""Levels and sides of a site: which areas and places lie on one plan."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import PurePath

from workbench.records.background import Area, Location, SitePlan
from workbench.records.dossier import Dossier
from workbench.records.record import Record

_ELSEWHERE = "on another level"


def levels_of(dossier: Dossier) -> tuple[str, ...]:
    """Return the levels or sides that plans, areas and locations name, in that order."""
    kinds: tuple[type[SitePlan | Area | Location], ...] = (SitePlan, Area, Location)
    named = (one.level for kind in kinds for one in dossier.all(kind) if one.level)
    return tuple(dict.fromkeys(named))


def each_level(dossier: Dossier) -> dict[str, Dossier]:
    """Return the case level by level, as `on_level`; where fewer than two are named, as it is.

    Places that name no level where others do stand under an empty name.
    """
    levels = levels_of(dossier)
    if len(levels) < 2:
        return {"": dossier}
    nameless = any(one.x and one.y and not one.level for one in dossier.all(Location))
    return {one: on_level(dossier, one) for one in (*levels, *([""] if nameless else []))}


def lies_on(dossier: Dossier, area: Area, level: str) -> bool:
    """Return whether an area lies on a level: by its word, else by that of its locations."""
    if area.level:
        return area.level == level
    said = {
        one.level for one in dossier.all(Location)
        if one.level and area.ref in _with_areas_around(dossier, one.area)
    }  # fmt: skip
    return not said or level in said


def plans_of(dossier: Dossier, level: str) -> tuple[SitePlan, ...]:
    """Return the plans of a level: those that name it, or are called so, else those naming none."""
    plans = dossier.all(SitePlan)
    named = [one for one in plans if level and level in {one.level, PurePath(one.file).stem}]
    anywhere = [one for one in plans if not one.level]
    return tuple(named or anywhere or ([] if level else plans))


def on_level(dossier: Dossier, level: str) -> Dossier:
    """Return the case with no plan, outline or coordinates but those of one level.

    Nothing else changes: the areas and locations of other levels are there, without a place.
    """
    return dossier.with_records(_without_places(dossier, level))


def places_of(dossier: Dossier) -> frozenset[str]:
    """Return the refs of the areas and locations that can be drawn on a plan."""
    areas = (one.ref for one in dossier.all(Area) if one.outline)
    return frozenset((*areas, *(one.ref for one in dossier.all(Location) if one.x and one.y)))


def _without_places(dossier: Dossier, level: str) -> Iterator[Record]:
    kept = plans_of(dossier, level)
    for plan in dossier.all(SitePlan):
        if plan not in kept:
            yield replace(plan, withdrawn=_ELSEWHERE)
    for area in dossier.all(Area):
        if area.outline and not lies_on(dossier, area, level):
            yield replace(area, outline=None)
    for location in dossier.all(Location):
        if location.level != level:
            yield replace(location, x=None, y=None)


def _with_areas_around(dossier: Dossier, ref: str) -> tuple[str, ...]:
    found: list[str] = []
    while ref and ref not in found:
        found.append(ref)
        area = dossier.area(ref)
        ref = area.within if area else ""
    return tuple(found)
