"""What a failure follows, and whether it lies near a thing drawn on the plan."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from workbench.records import Dossier, Location, NotUnderstoodError
from workbench.records.codes import Condition
from workbench.records.levels import each_level
from workbench.trade.units import UnitError, in_unit

if TYPE_CHECKING:
    from workbench.analysis.comparison.proportions import Proportion
    from workbench.analysis.pattern.results import SpatialDependence, Tally
    from workbench.analysis.pattern.space import Nearness, Surface
    from workbench.analysis.strength.results import StrengthResult

Point = tuple[float, float]


def near_alike(dossier: Dossier) -> "tuple[SpatialDependence | None]":
    """Return whether near places read alike: one value, None inside where places are too few."""
    from workbench.analysis.pattern.space import dependence, readings_at
    from workbench.analysis.strength import strength_by_plane

    read = readings_at(dossier, strength_by_plane(dossier).pulls)
    return (dependence(read.places, read.mpa),)


def on_the_plan(dossier: Dossier) -> "tuple[StrengthResult, Mapping[str, Surface | None]]":
    """Return the strengths, and by level what may be drawn between the readings on its plan."""
    from workbench.analysis.pattern.space import between_readings
    from workbench.analysis.strength import strength_by_plane

    result = strength_by_plane(dossier)
    levels = each_level(dossier)
    return result, {name: between_readings(held, result.pulls) for name, held in levels.items()}


def share_failing(tally: "Tally") -> "Proportion | None":
    """Return the share of the areas with one value that fail, with its exact 95 % interval."""
    from workbench.analysis.comparison.proportions import exact_share

    areas = len(tally.failing) + len(tally.holding)
    return exact_share(len(tally.failing), areas) if areas else None


def read_line(text: str) -> tuple[Point, ...]:
    """Return the points that "12 4; 12 30" names, in metres.

    Raises:
        NotUnderstoodError: It is no list of points.
    """
    points = []
    for part in filter(str.strip, text.split(";")):
        try:
            x, y = (float(number) for number in part.replace(",", " ").split())
        except ValueError:
            wrong, right = f"“{part.strip()}” is no point", "x and y in metres, as “12 4; 12 30”"
            raise NotUnderstoodError(wrong, right) from None
        points.append((x, y))
    if not points:
        raise NotUnderstoodError("no point is given", "x and y in metres, as “12 4; 12 30”")
    return tuple(points)


def near_to(dossier: Dossier, thing: str, line: Sequence[Point]) -> "Nearness | None":
    """Return whether failing places lie nearer to a line than the others; None where it is idle.

    Places are the locations with coordinates; their areas say whether they fail. Those of unknown
    and repaired areas are left out.
    """
    import numpy as np

    from workbench.analysis.pattern.space import nearness

    failing, others = [], []
    for location in dossier.all(Location):
        place, area = _place(location), dossier.area_of(location)
        if place is None or area is None:
            continue
        if area.condition is Condition.FAILING:
            failing.append(place)
        elif area.condition in {Condition.NON_FAILING, Condition.CONTROL}:
            others.append(place)
    sides = (np.array(some, float).reshape(-1, 2) for some in (failing, others))
    return nearness(thing, line, *sides)


def _place(location: Location) -> Point | None:
    if location.x is None or location.y is None:
        return None
    try:
        return in_unit(location.x, "m", "m"), in_unit(location.y, "m", "m")
    except UnitError:
        return None
