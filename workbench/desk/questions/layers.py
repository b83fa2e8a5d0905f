"""What is known about each plane of a coating system, one line a plane."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from workbench.figures.palette import CONDITION_ORDER
from workbench.records import Coat, Dossier, Plane, Source
from workbench.records.codes import Condition
from workbench.records.planes import MOST_COATS
from workbench.trade.showing import Showing

if TYPE_CHECKING:
    from workbench.analysis.strength.results import Group, StrengthResult


@dataclass(frozen=True, slots=True)
class Known:
    """What the pull-offs of one condition say of one plane.

    Attributes:
        condition: The condition of the areas.
        broke: How many broke here or came away here.
        faces: The same, each counted by the share of its face that parted here.
        tested: How many say something of the plane.
        strength: The strength as a number alone, "0.6" or "≥ 2.1"; may be empty.
        spoken: The strength with unit and interval, "0.6 MPa (0.4 to 0.9)"; may be empty.
    """

    condition: Condition
    broke: int
    tested: int
    strength: str = ""
    spoken: str = ""
    faces: float = 0.0

    @property
    def words(self) -> str:
        """All of it: "failing 14 of 20, 0.6 MPa (0.4 to 0.9)"."""
        broke = f"{self.condition} {self.broke} of {self.tested}"
        return ", ".join(part for part in (broke, self.spoken) if part)


@dataclass(frozen=True, slots=True)
class PlaneLine:
    """One plane of the stack and what the case knows of it.

    Attributes:
        plane: The plane; the glue planes stand together under `Y`.
        name: The plane in words, without its letter.
        known: What is known of it, by condition.
        worst: Whether most of the failing faces parted here.
        sources: The pull-offs behind what is known.
    """

    plane: Plane
    name: str
    known: tuple[Known, ...] = ()
    worst: bool = False
    sources: tuple[Source, ...] = ()

    @property
    def words(self) -> str:
        """What is known, in words: "parted here: failing 14 of 20, 0.6 MPa (0.4 to 0.9); …"."""
        known = "; ".join(one.words for one in self.known)
        return f"parted here: {known}" if known else "nothing is known"

    @property
    def line(self) -> str:
        """All of it in one line."""
        return f"{self.plane}, {self.name}: {self.words}"


@dataclass(frozen=True, slots=True)
class Stack:
    """A coating system from the substrate up.

    Attributes:
        system: Its name.
        coats: Its layers from the substrate up.
        lines: Its planes from the top down, as one looks at them.
    """

    system: str
    coats: tuple[Coat, ...]
    lines: tuple[PlaneLine, ...]


def systems_of(dossier: Dossier) -> tuple[str, ...]:
    """Return the names of the coating systems in their order."""
    return tuple(dict.fromkeys(coat.system for coat in dossier.all(Coat)))


def layers_of(
    dossier: Dossier, system: str, strength: "StrengthResult | None", showing: Showing
) -> Stack:
    """Return the stack of `system` with what is known about each of its planes."""
    coats = dossier.system(system)
    lines = [
        _line(dossier, plane, coats, _groups(strength, plane, system), showing)
        for plane in _planes(coats)
    ]
    if coats:
        glue = PlaneLine(Plane("Y"), "within or beside the glue", *_glue(strength, system))
        lines.insert(0, glue)
    return Stack(system, coats, _with_worst(tuple(lines)))


def _planes(coats: tuple[Coat, ...]) -> tuple[Plane, ...]:
    """Return the planes of a system from the last coat down to the substrate."""
    top = min(max((coat.order for coat in coats), default=0), MOST_COATS)
    planes = [Plane.within(0)]
    for order in range(top):
        planes += [Plane.above(order), Plane.within(order + 1)]
    return tuple(reversed(planes)) if coats else ()


def _groups(strength: "StrengthResult | None", plane: Plane, system: str) -> "tuple[Group, ...]":
    groups = strength.groups if strength else ()
    return tuple(one for one in groups if one.plane == plane and one.system in {system, ""})


def _line(
    dossier: Dossier,
    plane: Plane,
    coats: tuple[Coat, ...],
    groups: "tuple[Group, ...]",
    showing: Showing,
) -> PlaneLine:
    name = dossier.plane_name(plane, coats).partition(", ")[2]
    by_condition = {
        condition: [group for group in groups if group.condition is condition]
        for condition in CONDITION_ORDER
    }
    known = (_known(found, showing) for found in by_condition.values() if found)
    sources = tuple(source for group in groups for source in group.sources)
    return PlaneLine(plane, name, tuple(known), sources=sources)


def _known(groups: "list[Group]", showing: Showing) -> Known:
    from workbench.analysis.strength.words import strength_words

    first = groups[0]
    return Known(
        condition=first.condition,
        broke=sum(group.broke_here + group.at_most for group in groups),
        tested=max(group.n for group in groups),
        faces=sum(group.weight + group.at_most for group in groups),
        strength=strength_words(first, showing, whole=False),
        spoken=strength_words(first, showing),
    )


def _glue(
    strength: "StrengthResult | None", system: str
) -> "tuple[tuple[Known, ...], bool, tuple[Source, ...]]":
    """Return what is known of the glue planes, that they are never the worst, and the sources."""
    pulls = [one for one in (strength.pulls if strength else ()) if one.system in {system, ""}]
    pulls = [one for one in pulls if one.film.untouched]
    found = []
    for condition in CONDITION_ORDER:
        here = [one for one in pulls if one.condition is condition]
        if here:
            glued = sum(1 for one in here if one.glue > 0)
            found.append(Known(condition, glued, len(here)))
    return tuple(found), False, tuple(one.source for one in pulls if one.glue > 0)


def _with_worst(lines: tuple[PlaneLine, ...]) -> tuple[PlaneLine, ...]:
    """Mark the plane where most of the failing faces parted, if any parted in the coating."""
    failing = [_failing(line) for line in lines]
    most = max(failing, default=0.0)
    if not most:
        return lines
    worst = lines[failing.index(most)]
    return tuple(replace(one, worst=one is worst) for one in lines)


def _failing(line: PlaneLine) -> float:
    if line.plane.in_glue:
        return 0.0
    return sum(known.faces for known in line.known if known.condition is Condition.FAILING)
