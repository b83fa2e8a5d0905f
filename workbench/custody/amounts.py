"""What is left of a sample after what was cut from it and used up."""

from collections.abc import Iterator
from dataclasses import dataclass

from workbench.custody.breach import Breach
from workbench.custody.story import Story
from workbench.records import Dossier, Quantity, Sample, Source


@dataclass(frozen=True, slots=True)
class Balance:
    """The amounts of one sample, in the unit of its own.

    Attributes:
        whole: What there was.
        parts: What went into samples made from it.
        used: What was used up or lost in what was done to it.
        apart: Amounts in other units, which cannot be counted with it.
        sources: The records that say so.
    """

    whole: Quantity
    parts: float
    used: float
    apart: tuple[Quantity, ...]
    sources: tuple[Source, ...]

    @property
    def left(self) -> float:
        """What is left; below 0 where more was taken than there was."""
        return self.whole.value - self.parts - self.used


def balance_of(dossier: Dossier, story: Story) -> Balance | None:
    """Return what is left of a sample; None where nobody said how much there was."""
    whole = story.sample.amount
    if whole is None:
        return None
    parts = [one for one in dossier.all(Sample) if one.parent == story.sample.ref and one.amount]
    used = [moment.entry for moment in story.moments if moment.entry.amount]
    amounts = [one.amount for one in parts if one.amount]
    amounts += [one.amount for one in used if one.amount]
    same = whole.unit
    return Balance(
        whole,
        sum(one.amount.value for one in parts if one.amount and one.amount.unit == same),
        sum(one.amount.value for one in used if one.amount and one.amount.unit == same),
        tuple(amount for amount in amounts if amount.unit != same),
        (story.sample.source, *(one.source for one in (*parts, *used))),
    )


def overdrawn(dossier: Dossier, story: Story) -> Iterator[Breach]:
    """Yield a breach where parts and use exceed the whole."""
    balance = balance_of(dossier, story)
    if balance is None or balance.left >= -1e-9 * abs(balance.whole.value):
        return
    taken = balance.parts + balance.used
    words = f"{taken:g} {balance.whole.unit} taken from {balance.whole}"
    rule, remedy = "parts and use do not exceed the whole", "correct an amount"
    yield Breach(rule, story.sample.ref, balance.sources, words, remedy)
