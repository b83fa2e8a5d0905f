"""The headline numbers of a report: strengths by plane, the causes that lead, and their grades."""

from workbench.records import Grade
from workbench.report.draft import Draft
from workbench.report.given import Amendment
from workbench.report.wording import listed

Headlines = dict[str, str]


def headlines(draft: Draft) -> Headlines:
    """Return what a reader of the summary takes away, each number in words by its name."""
    return {**_strengths(draft), **_causes(draft)}


def moved(before: Headlines, after: Headlines) -> tuple[Amendment, ...]:
    """Return the headlines that are not what they were."""
    names = dict.fromkeys((*before, *after))
    return tuple(
        Amendment(name, before.get(name, ""), after.get(name, ""), "")
        for name in names
        if before.get(name) != after.get(name)
    )


def _strengths(draft: Draft) -> Headlines:
    result = draft.results.strength
    groups = result.groups if result else ()
    several = len({one.system for one in groups}) > 1
    return {
        f"Median strength in {one.condition.value} areas at {one.plane_name}"
        f"{f', system {one.system}' if several else ''}": draft.values.strength_words(
            one, spoken=True
        )
        for one in groups
    }


def _causes(draft: Draft) -> Headlines:
    found = draft.results.reasoning
    if found is None:
        return {}
    held = [one for one in found.candidates if one.grade.firmness >= Grade.POSSIBLE.firmness]
    titles = [f"“{one.title}”" for one in found.candidates if one.cause in found.leaders]
    return {"Leading causes": listed(titles) if titles else "none"} | {
        f"Grade of “{one.title}”": one.grade.value for one in held
    }
