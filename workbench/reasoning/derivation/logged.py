"""Which coats of the log matter: those at the failed plane, area by area."""

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.planes import parting
from workbench.reasoning.derivation.said import (
    OPEN,
    Verdict,
)
from workbench.reasoning.history import Laid, coats_laid
from workbench.reasoning.scene import Scene
from workbench.records import Area, PlaneKind

Judge = Callable[[Scene, Area], Verdict]
JudgeCoat = Callable[[Scene, Area, Laid], Verdict]


def coats_at_plane(scene: Scene, area: Area) -> tuple[Laid, ...]:
    """Return the coats on either side of the failed plane, or that it lies in.

    All coats where the plane is not known; at the substrate the first coat.
    """
    every = [one for one in coats_laid(scene, area) if one.order > 0]
    plane = parting(scene.failing).plane
    if plane is None or plane.lower is None or plane.upper is None:
        return tuple(every)
    orders = {max(plane.lower, 1), max(plane.upper, 1)}
    return tuple(one for one in every if one.order in orders)


def pairs_at_plane(scene: Scene, area: Area) -> tuple[tuple[Laid, Laid], ...]:
    """Return the pairs of coats at the failed plane; all pairs where it lies elsewhere."""
    every = [one for one in coats_laid(scene, area) if one.order > 0]
    pairs = tuple(pairwise(every))
    plane = parting(scene.failing).plane
    if plane is None or plane.lower is None or plane.upper is None:
        return pairs
    if plane.kind is PlaneKind.INTERFACE and plane.lower > 0:
        return tuple(p for p in pairs if (p[0].order, p[1].order) == (plane.lower, plane.upper))
    return pairs


def each_area(scene: Scene, judge: Judge) -> list[Verdict]:
    """Return what holds for each area of a side."""
    return [judge(scene, area) for area in scene.areas]


def each_coat(
    scene: Scene, judge_coat: JudgeCoat, coats: Callable[[Scene, Area], Iterable[Laid]]
) -> list[Verdict]:
    """Return what holds for each area as soon as one of its coats shows it.

    Args:
        scene: The side.
        judge_coat: What holds for one coat.
        coats: Which coats of an area are asked.
    """

    def judge(scene: Scene, area: Area) -> Verdict:
        held = [judge_coat(scene, area, coat) for coat in coats(scene, area)]
        return any_of(area, held) if held else unlogged(area)

    return each_area(scene, judge)


def lacking(scene: Scene, coat: Laid, what: str) -> Verdict:
    """Return that nothing can be said of a coat, since something is not recorded."""
    return Verdict(coat.area, OPEN, f"{coat_name(scene, coat)}: no {what} recorded", coat.sources)


def any_of(area: Area, verdicts: Sequence[Verdict]) -> Verdict:
    """Return what holds for an area when it holds as soon as one coat or pair shows it."""
    hits = [one for one in verdicts if one.holds]
    known = [one for one in verdicts if one.holds is not None]
    chosen = (hits or known or list(verdicts))[:1]
    if not chosen:
        return Verdict(area, OPEN, "", ())
    if not hits and len(known) < len(verdicts):
        chosen = [one for one in verdicts if one.holds is None][:1]
    sources = tuple(s for one in (hits or known or verdicts) for s in one.sources)
    quality = worst(one.quality for one in (hits or known))
    likely = [one.on_its_face for one in verdicts if one.on_its_face is not None]
    return Verdict(
        area, chosen[0].holds, chosen[0].words, sources, quality, any(likely) if likely else None
    )


def coat_name(scene: Scene, coat: Laid) -> str:
    """Return what a coat is called."""
    held = scene.coat(coat.area, coat.order)
    return (held.product or held.material.replace("_", " ")) if held else f"coat {coat.order}"


def unlogged(area: Area) -> Verdict:
    """Return that an area has no coat in the log."""
    return Verdict(area, OPEN, "no coat is logged", (area.source,))
