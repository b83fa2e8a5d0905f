"""What the reasoning comes to, in a sentence or two."""

from collections.abc import Sequence

from workbench.reasoning.prose.telling import listed
from workbench.reasoning.ranking import Standing
from workbench.reasoning.results import Place, Ungraded
from workbench.records import Grade

NOTHING_FAILS = "No area is recorded as failing, so no cause is sought."
_UNREAD = "No cause is determined: what would tell the candidates apart has not been read."
_UNSUPPORTED = "No cause is determined: nothing that was found supports a candidate."


def verdict_of(standing: Standing, places: Sequence[Place]) -> str:
    """Return what the reasoning comes to."""
    if places:
        parts = "; ".join(f"{one.name}: {_lead_words(one)}" for one in places)
        return f"Two places have causes of their own: {parts}."
    if not standing.leaders:
        unread = any(one.grade is Ungraded.NOT_EXAMINED for one in standing.proposals.values())
        return _UNREAD if unread else _UNSUPPORTED
    titles = [f"“{standing.field[name].cause.title}”" for name in standing.leaders]
    if len(titles) > 1:
        return (
            f"The cause is not determined: {listed(titles)} lead, and the evidence cannot part "
            f"them.{_others(standing)}"
        )
    grade = standing.proposals[standing.leaders[0]].grade
    said = f"The evidence leads to {titles[0]}; by the rules this is {grade}."
    if standing.field[standing.leaders[0]].cause.process:
        return f"{said} It is a process of damage; what led to it is not determined."
    return said


def _others(standing: Standing) -> str:
    """Return how many causes beside the leading ones are held possible."""
    grades = {name: one.grade for name, one in standing.proposals.items()}
    held = [n for n, grade in grades.items() if grade.firmness >= Grade.POSSIBLE.firmness]
    count = len(set(held) - set(standing.leaders))
    if not count:
        return ""
    return f" Beside them {count} other{'s are' if count > 1 else ' is'} held possible."


def _lead_words(place: Place) -> str:
    held = place.reasoning.candidate(place.leaders[0])
    return f"“{held.title}” ({held.grade})" if held else place.leaders[0]
