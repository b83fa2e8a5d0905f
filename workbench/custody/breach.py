"""A rule of custody that does not hold: which entries, what is there, what to do."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.records import CustodyEntry, Sample, Source


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule of custody that does not hold.

    Attributes:
        rule: Short name of the rule, as "the giver holds it".
        sample: Ref of the sample.
        sources: The entries and records concerned.
        words: What is there, in a sentence.
        remedy: What to do.
        grave: Whether the chain is broken; False for what is open or worth a word.
    """

    rule: str
    sample: str
    sources: tuple[Source, ...]
    words: str
    remedy: str
    grave: bool = True

    def __str__(self) -> str:
        """Return the breach as one line."""
        return f"{self.sample}: {self.words}; {self.remedy}"


def breach_of(
    rule: str,
    sample: Sample,
    entries: Iterable[CustodyEntry],
    words: str,
    remedy: str,
    *,
    grave: bool = True,
) -> Breach:
    """Return a breach by entries of one sample, or by the sample itself where there are none."""
    sources = tuple(entry.source for entry in entries) or (sample.source,)
    return Breach(rule, sample.ref, sources, words, remedy, grave)


def when_of(entry: CustodyEntry) -> str:
    """Return an entry in a few words: what and when."""
    return f"{entry.event.value.replace('_', ' ')} {entry.when}"
