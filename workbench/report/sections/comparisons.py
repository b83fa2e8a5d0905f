"""Failing areas against non-failing ones and controls, in all that was measured."""

from workbench.analysis.comparison.results import Comparison
from workbench.analysis.comparison.words import chance, in_brief
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Heading, Row, Table, headed
from workbench.report.draft import Draft, plain
from workbench.report.text import See

_SOUND = (Condition.NON_FAILING.value, Condition.CONTROL.value)


def comparisons(draft: Draft) -> list[Block]:
    """Return what differs between failing and other areas, by how much, and what chance may do."""
    held = [one for one in draft.results.comparisons if _telling(one)]
    if not held:
        return []
    rows = tuple(_row(draft, one) for one in held)
    columns = headed("What", "One against the other", "Readings", "Effect", "p", "By chance?")
    percent = f"{100 * held[0].confidence:.0f} %"
    note = (
        f"Readings: how many of each. Effect: the first against the second, with its {percent} "
        "interval; a ratio of medians for strengths, a difference for other numbers, for ratings "
        "the dominance: −1 where every first one is lower, 0 where neither is. p: the share of "
        "exchanges of the readings that differ as much, corrected for all comparisons made beside "
        "it (Holm). Unlikely: below 0.05; among areas: with whole areas as the units, for "
        "neighbours share a cause."
    )
    return [
        Heading(2, "Failing areas against sound ones", "comparisons"),
        plain(
            See("table comparisons"),
            " sets failing areas against non-failing ones and controls in what was measured "
            "in enough of both, and trial patches against each other. A difference is no cause by "
            "itself; where none is shown there may be one too small for the number of readings.",
        ),
        Table("comparisons", "What differs, and by how much", columns, rows, note, traced=True),
    ]


def _telling(one: Comparison) -> bool:
    """Return whether a comparison is of failing areas with sound ones, or of trials, and tells.

    One that nothing was tested in, or with too few areas to speak of chance, is left to the
    program; trial patches lie side by side in one place and are told as they are.
    """
    names = {one.one.name, one.other.name}
    if one.p is None or names.issubset(_SOUND):
        return False
    return one.enough_areas or not names & {*_SOUND, Condition.FAILING.value}


def _row(draft: Draft, one: Comparison) -> Row:
    effect, verdict = in_brief(one, draft.show)
    counts = f"{one.one.n} and {one.other.n}"
    cells = (one.quantity, _between(one), counts, effect, chance(one.p_corrected))
    return Row((*cells, _CHANCE.get(verdict, verdict)), one.sources)


_CHANCE = {
    "significant among readings, but not with whole areas as the units": (
        "unlikely among readings, possible among areas"
    ),
    "described only": "too few areas to say",
    "significant": "unlikely",
    "not significant": "possible",
}


def _between(one: Comparison) -> str:
    """Return who is compared, what both are said once: "abraded against as found"."""
    first, other = one.one.name, one.other.name
    if ", " not in first:
        return f"{first} against {other}"
    shared, _, one_way = first.rpartition(", ")
    return f"{shared.removeprefix('failing, ')}: {one_way} against {other.rpartition(', ')[2]}"
