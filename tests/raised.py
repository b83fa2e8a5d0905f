"""Grades that rose although nothing that bears on the cause was found otherwise."""

from workbench.reasoning import Reasoning


def grades(held: Reasoning) -> dict[str, int]:
    """Return how firm the grade of each candidate is."""
    return {one.cause: one.grade.firmness for one in held.candidates}


def raised_against_evidence(before: Reasoning, after: Reasoning) -> list[str]:
    """Return the causes whose grade rose without a change in what bears on them or their rivals."""
    first = grades(before)
    raised = [cause for cause, grade in grades(after).items() if grade > first.get(cause, 99)]
    changed = {
        old.key
        for old, new in zip(before.findings, after.findings, strict=True)
        if (old.value, old.quality, old.n, old.shares, old.sound, old.control)
        != (new.value, new.quality, new.n, new.shares, new.sound, new.control)
    }
    return [cause for cause in raised if not changed & _bearing_on(before, cause)]


def _bearing_on(held: Reasoning, cause: str) -> set[str]:
    """Return the observations that speak for or against a cause or one of its rivals."""
    one = held.candidate(cause)
    rivals = {rival.cause for rival in one.rivals} if one else set()
    return {
        cell.key
        for name in (cause, *rivals)
        if (candidate := held.candidate(name))
        for cell in (*candidate.opposing, *candidate.supporting)
    }
