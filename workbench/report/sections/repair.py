"""Recommendations: what to remove, how to prove the edge, and how to prove the repair."""

from collections.abc import Sequence

from workbench.analysis.strength.results import Group
from workbench.reasoning import amended, load_knowledge
from workbench.records import Area, Grade
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Heading, Paragraph, Section, Voice
from workbench.report.draft import Draft, caution, plain
from workbench.report.text import See, text


def _hold_points(draft: Draft) -> tuple[str, ...]:
    margin = draft.show.difference(3)
    return (
        (
            "Limit of removal agreed on a drawing; sound edges shown to hold by knife and pull-off "
            "every few square metres outside it until two tests in succession hold."
        ),
        (
            "Surface ready: cleanliness, profile or abrasion seen under a lens; dust, moisture or "
            "salts within the limits of the data sheet, in writing."
        ),
        (
            f"Environment logged on site: surface at least {margin} above the dew point; "
            "temperature, humidity, mix, and the time since the coat before set against the "
            "data sheet as work goes on."
        ),
        "Wet and dry thickness by layer.",
        "Cure checked before the area is loaded, wetted or washed.",
        "Adhesion at agreed numbers and places, the plane of every break recorded.",
    )


def repair(draft: Draft) -> Section:
    """Return the section on recommendations."""
    if not draft.areas(Condition.FAILING):
        nothing = plain("No area is recorded as failing, so nothing is recommended.")
        return Section("repair", "Recommendations and repair scope", (nothing,))
    parting = _parting(draft)
    ground = (
        "These recommendations follow from where the coating parts. They fix a scope of removal "
        "and the proofs of a repair."
        if parting
        else "No pull-off shows where the coating parts; what follows is usual practice."
    )
    blocks: list[Block] = [
        plain(f"{ground} Prices and programme are left to others."),
        *_scope(draft, parting),
        *_usual(draft),
        Heading(2, "Trial before the work", "trial"),
        Paragraph(
            text(
                "A trial patch of the repair proposed should be laid on the face prepared "
                "as planned, in at least two places, and pulled after full cure. Where "
                "coats parted from each other the trial should compare the face as found, "
                "washed and abraded."
            ),
            Voice.PLAIN,
            name="repair: trial",
        ),
        Heading(2, "Hold points", "hold points"),
        plain(
            "At each of these the work should stop until the proof is in writing (common "
            "practice; adapt to the contract):"
        ),
        *(Paragraph(text(words), Voice.ITEM) for words in _hold_points(draft)),
        Heading(2, "Acceptance and follow-up", "acceptance"),
        Paragraph(
            text(
                "To be agreed before the work. A usual proposal (common practice, no "
                "standard): median pull-off above the requirement, none below 80 % of it, "
                "no more than 20 % of any break at the repaired interface, no hollow area. "
                "Inspect after 1, 6 and 12 months at the same marked places, and close the "
                "matter when the season or the service that caused the failure has passed."
            ),
            Voice.PLAIN,
            name="repair: acceptance",
        ),
        caution(
            "Removing coatings sets free dust that may hold silica, lead, chromate or fibres, "
            "and solvents burn. Have the old coating tested before grinding or blasting; local "
            "codes, permits and licensed practice decide how it is done."
        ),
    ]
    return Section("repair", "Recommendations and repair scope", tuple(blocks))


def _scope(draft: Draft, parting: Group | None) -> list[Block]:
    failing = draft.areas(Condition.FAILING)
    if not parting:
        return [
            Heading(2, "Scope", "scope"),
            plain(
                "The scope cannot be drafted from the records: no pull-off in the failing areas "
                "shows which plane parts."
            ),
        ]
    of = (*parting.sources, *(a.source for a in failing))
    parts = [
        (
            f"It follows that everything above the plane that parts ({parting.plane_name}) should "
            "be removed in the whole of the areas that fail, not only where it has let go: "
            f"{draft.named(failing)}. {_kept(draft, failing)}"
        )
    ]
    if parting.plane.lower:
        parts.append(
            "The layers below that plane held and may stay where the tests at the edge "
            "and on the exposed face confirm it."
        )
    return [
        Heading(2, "Scope", "scope"),
        Paragraph(text(*parts), Voice.INFERENCE, of, name="repair: scope"),
        Paragraph(
            text(
                "The extent seen and sounded is in ",
                See("section survey"),
                "; the edge is to be decided by tests, not by eye.",
            ),
            Voice.FACT,
            name="repair: edge",
        ),
    ]


def _kept(draft: Draft, failing: Sequence[Area]) -> str:
    """Return what lies within the areas that fail and does not fail itself."""
    refs = {area.ref for area in failing}
    kept = [
        area
        for area in draft.areas(Condition.NON_FAILING, Condition.CONTROL, Condition.REPAIRED)
        if area.within in refs
    ]
    if not kept:
        return ""
    return f"Whether it stays on {draft.named(kept)}, within them, is to be decided by tests. "


def _usual(draft: Draft) -> list[Block]:
    """Return what is usually done about the causes that are held, drafted to be edited."""
    found = draft.results.reasoning
    if found is None:
        return []
    known = amended(load_knowledge(), draft.dossier).cause
    held = [c for c in found.candidates if c.grade.firmness >= Grade.POSSIBLE.firmness]
    firm = [c for c in held if c.grade.firmness >= Grade.PROBABLE.firmness]
    told = [
        c for c in (firm or held)[:_MOST_REMEDIES] if c.cause in known and known[c.cause].remedy
    ]
    if not told:
        return []
    return [
        Heading(2, "What is usually done", "usual"),
        plain(
            "Drafted from what the trade usually does about the causes held in ",
            See("section reasoning"),
            "; it fixes nothing for this object and is to be read with the scope above.",
        ),
        *(
            Paragraph(
                text(f"“{one.title}” ({one.grade.value}): {_lower(known[one.cause].remedy)}."),
                Voice.ITEM,
                tuple(dict.fromkeys(s for cell in one.supporting for s in cell.finding.sources)),
                name=f"repair: usual {one.cause}",
            )
            for one in told
        ),
    ]


_MOST_REMEDIES = 4


def _lower(words: str) -> str:
    return words[:1].lower() + words[1:].rstrip(".")


def _parting(draft: Draft) -> Group | None:
    result = draft.results.strength
    failing = [g for g in result.groups if g.condition is Condition.FAILING] if result else []
    worst = max(failing, key=lambda g: g.broke_here + g.at_most, default=None)
    return worst if worst and worst.broke_here + worst.at_most else None
