"""The site as a plan: its pictures, the areas outlined on it, and the places where was tested."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from workbench.records import (
    Area,
    Dossier,
    Location,
    Outline,
    Plane,
    PullOff,
    Source,
)
from workbench.records.codes import Condition
from workbench.records.levels import levels_of, lies_on, plans_of
from workbench.trade.plan_scale import PlanScale
from workbench.trade.pull_off import stress_of
from workbench.trade.showing import in_si


@dataclass(frozen=True, slots=True)
class Sheet:
    """A picture of the site and how it lies under the metres of the plan.

    Attributes:
        file: Name of the picture, as the record has it.
        scale: Where its pixels lie in metres.
    """

    file: str
    scale: PlanScale


@dataclass(frozen=True, slots=True)
class PlacedArea:
    """An area with its outline."""

    ref: str
    name: str
    condition: Condition
    outline: Outline


@dataclass(frozen=True, slots=True)
class Spot:
    """A location and the pull-off that says most of it.

    Attributes:
        ref: The location.
        x: Metres along the plan.
        y: Metres up the plan.
        area: Ref of its area.
        condition: Condition of its area.
        mpa: The lowest stress of its pull-offs; None where none was made or read.
        at_most: Whether the coating came away before load.
        plane: The plane with the largest share of that break.
        pulls: Its pull-offs.
    """

    ref: str
    x: float
    y: float
    area: str
    condition: Condition
    mpa: float | None = None
    at_most: bool = False
    plane: Plane | None = None
    pulls: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Site:
    """One level or side of the site.

    Attributes:
        level: Its name; empty where the case names none.
        sheet: The picture beneath, where there is one.
        areas: The areas that have an outline, large ones first.
        spots: The locations that have coordinates.
        unplaced: Refs of areas and locations that cannot be drawn.
    """

    level: str = ""
    sheet: Sheet | None = None
    areas: tuple[PlacedArea, ...] = ()
    spots: tuple[Spot, ...] = ()
    unplaced: tuple[str, ...] = ()

    @property
    def planes(self) -> tuple[Plane, ...]:
        """The planes that the spots broke in, from the substrate up."""
        found = {spot.plane for spot in self.spots if spot.plane}
        return tuple(sorted(found, key=lambda plane: plane.height))

    @property
    def strongest_mpa(self) -> float:
        """The highest stress shown; 0 where none is."""
        return max((spot.mpa for spot in self.spots if spot.mpa is not None), default=0.0)


def plane_names(dossier: Dossier, site: Site) -> Mapping[Plane, str]:
    """Return the planes that spots broke in, in words: one name for each system they lie in."""
    names: dict[Plane, list[str]] = {}
    for spot in site.spots:
        if spot.plane:
            system = dossier.system_of(dossier.area(spot.area))
            names.setdefault(spot.plane, []).append(dossier.plane_name(spot.plane, system))
    return {plane: " or ".join(dict.fromkeys(said)) for plane, said in names.items()}


def site_of(dossier: Dossier, level: str = "", *, tested: bool = True) -> Site:
    """Return one level of the site.

    Args:
        dossier: The case.
        level: Name of the level or side; empty for all of it.
        tested: Whether the spots say what was found there; without, they are there at once.
    """
    pulls = _pulls_by_location(dossier) if tested else {}
    on_level = [one for one in dossier.all(Location) if not level or one.level == level]
    placed = [one for one in on_level if one.x and one.y]
    areas = sorted(_placed_areas(dossier, level), key=lambda one: -one.outline.area_m2)
    return Site(
        level=level,
        sheet=_sheet_of(dossier, level),
        areas=tuple(areas),
        spots=tuple(_spot(dossier, one, pulls.get(one.ref, [])) for one in placed),
        unplaced=(
            *(
                one.ref
                for one in dossier.all(Area)
                if one.outline is None and (not level or one.level in {"", level})
            ),
            *(one.ref for one in on_level if not (one.x and one.y)),
            *(one.ref for one in dossier.all(Location) if level and not one.level),
        ),
    )


def _placed_areas(dossier: Dossier, level: str) -> list[PlacedArea]:
    parted = bool(level) and len(levels_of(dossier)) > 1
    return [
        PlacedArea(one.ref, one.name, one.condition, one.outline)
        for one in dossier.all(Area)
        if one.outline and (not parted or lies_on(dossier, one, level))
    ]


def _sheet_of(dossier: Dossier, level: str) -> Sheet | None:
    chosen = next(iter(plans_of(dossier, level)), None)
    return Sheet(chosen.file, PlanScale.of(chosen)) if chosen else None


def _pulls_by_location(dossier: Dossier) -> Mapping[str, list[PullOff]]:
    found: dict[str, list[PullOff]] = {}
    for pull in dossier.all(PullOff):
        if dossier.treatment_of(pull) is None and pull.on is None:
            found.setdefault(pull.location, []).append(pull)
    return found


@dataclass(slots=True)
class _Lowest:
    mpa: float | None = None
    at_most: bool = False
    plane: Plane | None = None
    pulls: list[Source] = field(default_factory=list)

    def take(self, pull: PullOff) -> None:
        self.pulls.append(pull.source)
        stress = stress_of(pull)
        lower = self.mpa is None or (stress.mpa is not None and stress.mpa < self.mpa)
        if lower or self.plane is None:
            self.mpa, self.at_most = stress.mpa, stress.at_most
            self.plane = _main_plane(pull) or self.plane


def _spot(dossier: Dossier, location: Location, pulls: list[PullOff]) -> Spot:
    lowest = _Lowest()
    for pull in pulls:
        lowest.take(pull)
    x, y = location.x, location.y
    area = dossier.area(location.area)
    return Spot(
        ref=location.ref,
        x=in_si(x, "m") if x else 0.0,
        y=in_si(y, "m") if y else 0.0,
        area=location.area,
        condition=area.condition if area else Condition.UNKNOWN,
        mpa=lowest.mpa,
        at_most=lowest.at_most,
        plane=lowest.plane,
        pulls=tuple(lowest.pulls),
    )


def _main_plane(pull: PullOff) -> Plane | None:
    shares = pull.breaks.shares if pull.breaks else ()
    given = [share for share in shares if share.plane and share.percent is not None]
    return max(given, key=lambda share: share.percent or 0).plane if given else None
