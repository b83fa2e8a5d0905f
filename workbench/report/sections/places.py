"""How the places that were tested were chosen: what speaks for an area, and what for itself."""

from workbench.records import Location, Measurement, PullOff, Rating, Record, Thickness
from workbench.report.blocks import Block
from workbench.report.draft import Draft, fact
from workbench.report.tallies import grouped
from workbench.report.wording import counted, listed, number_word

_TESTS: tuple[type[Record], ...] = (PullOff, Rating, Thickness, Measurement)


def how_chosen(draft: Draft) -> list[Block]:
    """Return how the places of the field tests were chosen; says where that is not recorded."""
    dossier = draft.dossier
    tested = {getattr(one, "location", "") for kind in _TESTS for one in dossier.all(kind)}
    places = [one for one in dossier.all(Location) if one.ref in tested]
    if not places:
        return []
    by_reason = grouped(places, lambda one: one.chosen.strip())
    unsaid = len(by_reason.pop("", []))
    said = [f"{number_word(len(held))} {reason}" for reason, held in by_reason.items()]
    missing = f"of {number_word(unsaid)} it is not recorded" if unsaid else ""
    if not said:
        told = "How the places of the field tests were chosen is not recorded."
    else:
        told = (
            f"The {counted(len(places), 'place')} of the field tests were chosen as follows: "
            f"{listed([*said, *([missing] if missing else [])])}."
        )
    return [
        fact(
            "field tests: places",
            f"{told} A place chosen for what it shows speaks for itself, not for its area.",
            of=places,
        )
    ]
