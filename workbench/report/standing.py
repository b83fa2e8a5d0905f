"""What touches the evidence itself and stands open: broken custody, doubts of its readings.

Such a point hinders the issue until it is mended or answered, or until it is written why the
report leaves it open; that reason is printed among the limits.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.custody.rules import breaches
from workbench.records import Source, Statement
from workbench.report.draft import Draft
from workbench.report.profiles import WITHOUT, statement

if TYPE_CHECKING:
    from workbench.analysis.doubts.results import Doubt
    from workbench.custody.breach import Breach


@dataclass(frozen=True, slots=True)
class Standing:
    """One grave point that stands open.

    Attributes:
        key: What the reason for leaving it open is written under.
        words: What is wrong.
        remedy: What would close it.
        sources: The records concerned.
        reason: Why the report leaves it open; None while nobody has written it.
    """

    key: str
    words: str
    remedy: str
    sources: tuple[Source, ...]
    reason: Statement | None


def standing(draft: Draft) -> tuple[Standing, ...]:
    """Return the grave points that stand open: custody sample by sample, doubts rule by rule."""
    return (*_custody(draft), *_doubts(draft))


def _custody(draft: Draft) -> Iterator[Standing]:
    alike: dict[str, list[Breach]] = {}
    for one in breaches(draft.dossier, now=draft.setup.moment):
        if one.grave:
            alike.setdefault(f"custody {one.sample}: {one.rule}", []).append(one)
    for key, held in alike.items():
        words = "; ".join(dict.fromkeys(one.words for one in held))
        sources = tuple(dict.fromkeys(source for one in held for source in one.sources))
        yield _named(draft, key, f"{held[0].sample}: {words}", held[0].remedy, sources)


def _doubts(draft: Draft) -> Iterator[Standing]:
    alike: dict[str, list[Doubt]] = {}
    for one in draft.results.doubts:
        if one.waits:
            alike.setdefault(str(one.rule), []).append(one)
    for rule, held in alike.items():
        sources = tuple(dict.fromkeys(one.source for one in held))
        words = f"{rule}, {about(sources)}: nobody has answered it, and it changes no estimate"
        remedy = "mend the record, or answer the doubt with a reason"
        yield _named(draft, f"doubt {about(sources)}: {rule}", words, remedy, sources)


def _named(
    draft: Draft, key: str, words: str, remedy: str, sources: tuple[Source, ...]
) -> Standing:
    return Standing(key, words, remedy, sources, statement(draft, f"{WITHOUT}{key}"))


def about(sources: tuple[Source, ...]) -> str:
    """Return records in a few words: "P-1, P-2", "19 records, P-01 to P-19"."""
    labels = [source.label for source in sources]
    if len(labels) < _NAMED:
        return ", ".join(labels)
    return f"{len(labels)} records, {labels[0]} to {labels[-1]}"


_NAMED = 4
