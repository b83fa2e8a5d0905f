"""Look-alikes and serious rivals of a cause: what closed them, or what would tell them apart."""

from collections.abc import Iterable, Mapping

from workbench.reasoning.knowledge import Cause
from workbench.reasoning.marks import adds_to
from workbench.reasoning.results import Cell, Rival
from workbench.reasoning.weighed import BARRING, Weighed
from workbench.reasoning.weighing import FACTOR, POINTS, Scales
from workbench.records import Direction, Weight

UNOPPOSED = "nothing read speaks against it"

STRONG_AGAINST = FACTOR[Direction.UNLIKELY] * POINTS[Weight.STRONG]


def rivals_of(one: Weighed, field: Mapping[str, Weighed], scales: Scales) -> tuple[Rival, ...]:
    """Return the look-alikes and the serious rivals of a cause, closed and open."""
    listed = {x.cause: x.tell_apart for x in one.cause.lookalikes}
    serious = [
        other.cause.id
        for other in field.values()
        if other.cause.id != one.cause.id
        and not other.barred
        and one.points - other.points < scales.settings.serious
        and other.points >= scales.settings.possible
        and adds_to(other, one, scales)
    ]
    names = dict.fromkeys([*listed, *serious])
    return tuple(
        _rival(one, field.get(name), name, listed.get(name, ""), scales)
        for name in names
        if name in scales.knowledge.cause and not _kin(one.cause, scales.knowledge.cause[name])
    )


def _kin(one: Cause, other: Cause) -> bool:
    """Return whether both may stand: what leads to the other, or two faces of one event."""
    if other.id in one.companions or one.id in other.companions:
        return True
    return one.id in other.upstream or other.id in one.upstream


def _rival(
    one: Weighed, other: Weighed | None, name: str, tell_apart: str, scales: Scales
) -> Rival:
    title = scales.knowledge.cause[name].title
    if other is None:
        return Rival(cause=name, title=title, closed=True,
                     words="it does not act on this substrate and system")  # fmt: skip
    if other.barred:
        barring = [c for c in other.cells if c.bearing in BARRING]
        words = f"excluded: {told(barring, scales)}"
        sources = tuple(s for c in barring for s in c.finding.sources)
        return Rival(cause=name, title=title, closed=True, words=words, sources=sources)
    strong = [c for c in other.against if c.points <= STRONG_AGAINST]
    far = one.points - other.points >= scales.settings.serious
    if strong or (other.against and far):
        held = (strong or list(other.against))[:3]
        words = f"against it: {told(held, scales)}"
        sources = tuple(s for c in held for s in c.finding.sources)
        return Rival(cause=name, title=title, closed=True, words=words, sources=sources)
    pressing = other.points >= scales.settings.possible and adds_to(other, one, scales)
    return Rival(cause=name, title=title, closed=False, pressing=pressing,
                 words=tell_apart or UNOPPOSED)  # fmt: skip


def told(cells: Iterable[Cell], scales: Scales) -> str:
    """Return what was found, in the short words of the observations."""
    said = (scales.knowledge.observation[c.key].says.get(c.finding.value, "") for c in cells)
    return "; ".join(dict.fromkeys(f"{words[:1].lower()}{words[1:]}" for words in said if words))
