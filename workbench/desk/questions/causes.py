"""What the records say of causes, for window, report and command alike.

The reasoning is imported when the question is asked: a window opens without it.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING

from workbench.records import Dossier, Source

if TYPE_CHECKING:
    from workbench.reasoning import (
        Candidate,
        Cell,
        Filter,
        Finding,
        Knowledge,
        Matrix,
        NextTest,
        Reasoning,
    )
    from workbench.trade.showing import System


def causes(dossier: Dossier) -> "Reasoning":
    """Return what follows from the records of a case."""
    from workbench.reasoning import reason

    return reason(dossier)


@cache
def causes_in(system: "System") -> "Callable[[Dossier], Reasoning]":
    """Return the question of causes with its numbers told in some units; one for each system."""

    def causes_told(dossier: Dossier) -> "Reasoning":
        from workbench.reasoning import reason
        from workbench.trade.showing import Showing

        return reason(dossier, showing=Showing(system))

    return causes_told


def knowledge_of(dossier: Dossier) -> "Knowledge":
    """Return the knowledge that holds for a case: the program's, as the case changes it."""
    from workbench.reasoning import amended, load_knowledge

    return amended(load_knowledge(), dossier)


def cause_matrix(
    dossier: Dossier, reasoning: "Reasoning", wanted: "Filter | None" = None
) -> "Matrix":
    """Return candidates against observations, narrowed to what is wanted."""
    from workbench.reasoning import matrix_of

    return matrix_of(reasoning, knowledge_of(dossier), wanted)


def causes_members(reasoning: "Reasoning") -> Mapping[str, object]:
    """Return the answer as plain members, as the command prints it in JSON."""
    return {
        "causes": [_candidate(one) for one in reasoning.candidates],
        "next_tests": [_test(one) for one in reasoning.next_tests],
        "inconclusive": reasoning.inconclusive,
        "leaders": list(reasoning.leaders),
        "verdict": reasoning.verdict,
        "places": [
            {"name": one.name, "areas": list(one.areas), "leaders": list(one.leaders)}
            for one in reasoning.places
        ],
        "questions": [{"key": one.key, "question": one.text} for one in reasoning.questions],
        "fragilities": [{"key": one.key, "words": one.words} for one in reasoning.fragilities],
        "unexplained": [one.words for one in reasoning.unexplained],
        "aliases": [{"keys": list(one.keys), "words": one.words} for one in reasoning.aliases],
        "findings": [_finding(one) for one in reasoning.findings if one.known],
    }


def _candidate(one: "Candidate") -> Mapping[str, object]:
    return {
        "id": one.cause,
        "title": one.title,
        "rank": one.rank,
        "joint": one.joint,
        "behind": list(one.behind),
        "grade": str(one.grade),
        "proposed": str(one.proposed),
        "role": str(one.role) if one.role else None,
        "excluded_by": [cell.key for cell in one.excluded_by],
        "for": [_cell(cell) for cell in one.supporting],
        "against": [_cell(cell) for cell in one.opposing],
        "unread": [cell.key for cell in one.unread],
    }


def _cell(cell: "Cell") -> Mapping[str, object]:
    return {
        "key": cell.key,
        "value": cell.finding.value,
        "sources": _labels(cell.finding.sources),
        "bearing": str(cell.bearing),
        "counted": cell.counted,
    }


def _finding(one: "Finding") -> Mapping[str, object]:
    return {
        "key": one.key,
        "value": one.value,
        "n": one.n,
        "quality": str(one.quality) if one.quality else None,
        "words": one.words,
        "sources": _labels(one.sources),
        "overrides": one.override.derived if one.override else None,
    }


def _labels(sources: Iterable[Source]) -> list[str]:
    return [str(source) for source in sources]


def _test(one: "NextTest") -> Mapping[str, object]:
    return {
        "test": one.test,
        "name": one.name,
        "setting": one.setting,
        "cost": one.cost,
        "delay": one.delay,
        "destructive": one.destructive,
        "keys": list(one.keys),
        "parts": list(one.parts),
        "outcomes": [
            {
                "key": o.key, "value": o.value, "words": o.words,
                "strengthens": list(o.strengthens), "weakens": list(o.weakens),
                "excludes": list(o.excludes),
            }
            for o in one.outcomes
        ],
    }  # fmt: skip
