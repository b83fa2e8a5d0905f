"""Two causes for two places: failing areas that go together and have a cause of their own.

The failing side is divided by what its places have in common (a position such as a joint, the
form of failure, the plane that parts), and each part is reasoned for alone. A division stands
only where every part leads clearly to a cause, and the causes differ.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from workbench.reasoning.derivation.appearance import failure_form_dominant
from workbench.reasoning.derivation.features import POSITIONS
from workbench.reasoning.derivation.planes import parting
from workbench.reasoning.scene import Scene
from workbench.records import Area, Location

Within = Callable[[str], bool]


@dataclass(frozen=True)
class Part:
    """One part of the failing side."""

    name: str
    within: Within
    areas: tuple[str, ...]


def divisions(scene: Scene) -> Iterator[tuple[Part, ...]]:
    """Return the ways in which the failing places may be divided, each in two parts or more."""
    for tag in POSITIONS:
        if parts := _by_tag(scene, tag):
            yield parts
    for common in (_form_of, _plane_of):
        if parts := _by_area(scene, common):
            yield parts


def _by_tag(scene: Scene, tag: str) -> tuple[Part, ...]:
    spots = [area.ref for area in scene.failing.areas]
    spots += [one.ref for one in scene.failing.all(Location)]
    with_ = {spot for spot in spots if scene.tag(spot, tag)}
    without = [area.ref for area in scene.failing.areas if not scene.tag(area.ref, tag)]
    if not with_ or not [ref for ref in without if ref not in with_]:
        return ()
    plain = tag.replace("_", " ")
    return (
        Part(f"where “{plain}” is recorded", _tagged(scene, tag, holds=True), _areas(scene, with_)),
        Part(f"away from “{plain}”", _tagged(scene, tag, holds=False), tuple(without)),
    )


def _tagged(scene: Scene, tag: str, *, holds: bool) -> Within:
    return lambda at: bool(scene.tag(at, tag)) is holds


def _areas(scene: Scene, spots: set[str]) -> tuple[str, ...]:
    refs = [area.ref for spot in sorted(spots) if (area := scene.dossier.area_at(spot))]
    return tuple(dict.fromkeys(refs))


def _by_area(scene: Scene, common: Callable[[Scene, Area], str]) -> tuple[Part, ...]:
    held: dict[str, list[str]] = {}
    for area in scene.failing.areas:
        if name := common(scene, area):
            held.setdefault(name, []).append(area.ref)
    if len(held) < 2:
        return ()
    return tuple(Part(name, _in(scene, refs), tuple(refs)) for name, refs in held.items())


def _in(scene: Scene, refs: list[str]) -> Within:
    chosen = frozenset(refs)

    def within(at: str) -> bool:
        areas = scene.with_ancestors(scene.dossier.area_at(at))
        return any(area.ref in chosen for area in areas)

    return within


def _only(scene: Scene, area: Area) -> Scene:
    return replace(scene, within=_in(scene, [area.ref]), sides={})


def _form_of(scene: Scene, area: Area) -> str:
    found = failure_form_dominant(_only(scene, area))
    return f"where the form is {found.value.replace('_', ' ')}" if found.known else ""


def _plane_of(scene: Scene, area: Area) -> str:
    plane = parting(_only(scene, area)).plane
    return f"where {plane} parts" if plane else ""
