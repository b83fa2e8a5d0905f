"""Who holds each sample, and what does not hold of its custody."""

from dataclasses import dataclass
from datetime import datetime

from workbench.custody.breach import Breach
from workbench.custody.rules import breaches
from workbench.custody.story import stories
from workbench.records import Dossier


@dataclass(frozen=True, slots=True)
class Holding:
    """One sample now.

    Attributes:
        sample: Its ref.
        holder: Who holds it; empty where nobody is known to, or where it is gone.
        state: What its custody is, or how it ended.
        place: Where it is.
        since: Since when, as recorded.
        seals: Numbers of its unbroken seals.
        entries: How many entries it has.
    """

    sample: str
    holder: str
    state: str
    place: str
    since: str
    seals: tuple[str, ...]
    entries: int


@dataclass(frozen=True, slots=True)
class CustodyNow:
    """The custody of a case at one moment."""

    samples: tuple[Holding, ...]
    breaches: tuple[Breach, ...]

    @property
    def broken(self) -> bool:
        """Whether a chain is broken, not merely open or worth a word."""
        return any(one.grave for one in self.breaches)


def custody_now(dossier: Dossier, now: datetime) -> CustodyNow:
    """Return who holds each sample, and every breach of a custody rule."""
    held = []
    for story in stories(dossier):
        last = story.now
        if last is None:
            held.append(Holding(story.sample.ref, "", "no entry", "", "", (), 0))
            continue
        ended = last.entry.event.value.replace("_", " ")
        state = ended if last.ended else str(last.state or "nobody is known to hold it")
        held.append(
            Holding(
                story.sample.ref, last.holder, state, last.place, str(last.entry.when),
                tuple(sorted(last.seals)), len(story.moments),
            )
        )  # fmt: skip
    return CustodyNow(tuple(held), breaches(dossier, now=now))
