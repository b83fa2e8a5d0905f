"""Words of certainty and words about persons: flagged, never changed."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from workbench.records import Dossier, Party

_GRADE = "say the grade of the opinion instead"
_DOUBT = "doubt is what the grade is for"
_CERTAIN = (
    (r"\b(?:dis)?prove[sdn]?\b|\bproven\b|\bproofs?\b", "evidence supports a grade, no more"),
    (r"\bcertain(?:ly|ty)?\b", _GRADE),
    (r"\bundoubted(?:ly)?\b|\bno doubt\b", _DOUBT),
    (r"\bwithout (?:a |any )?doubt\b", _DOUBT),
    (r"\bbeyond (?:all |any |reasonable )?doubt\b", _DOUBT),
    (r"\b100\s*(?:%|per ?cent)\s*(?:sure|certain|confident|due|caused)?", "no such share is known"),
    (r"\bdefinite(?:ly)?\b|\bconclusive(?:ly)?\b", _GRADE),
    (r"\bunequivocal(?:ly)?\b|\bindisputabl[ey]\b", _GRADE),
    (r"\bobvious(?:ly)?\b|\bclearly\b|\bof course\b", "what is plain need not be called so"),
    (r"\bimpossible\b|\bcannot have\b", "say what excludes it, and by which record"),
    (r"\bconsistent with\b", "no grade; say established, probable or possible"),
    (r"\bauthentic\b|\btamper[- ]?proof\b", "say “unchanged since import”"),
)
_BLAME = (
    r"\bnegligen(?:t|ce|tly)\b|\bcareless(?:ly|ness)?\b|\bfault of\b|\bat fault\b"
    r"|\bblam(?:e|ed|ing)\b|\bincompeten(?:t|ce)\b|\bshoddy\b|\bliab(?:le|ility)\b"
    r"|\bfailed to\b|\bshould have\b"
)
_SHARES_ALLOWED = re.compile(r"\b100\s*%\s*(?:at|within|of|in|A|B|C|D|E)\b")


@dataclass(frozen=True, slots=True)
class Flag:
    """A word that a judge would ask about.

    Attributes:
        words: The words as they stand.
        start: Where they begin in the text.
        why: What is wrong with them, and what would be right.
    """

    words: str
    start: int
    why: str


def certainty_flags(text: str) -> tuple[Flag, ...]:
    """Return the words that claim more certainty than an opinion has."""
    held = [
        Flag(match.group().strip(), match.start(), why)
        for pattern, why in _CERTAIN
        for match in re.finditer(pattern, text, re.IGNORECASE)
        if not _SHARES_ALLOWED.match(text, match.start())
    ]
    return tuple(sorted(held, key=lambda one: one.start))


def party_flags(text: str, dossier: Dossier) -> tuple[Flag, ...]:
    """Return the words that name a party as a cause, or that speak of fault.

    A cause is a condition; who answers for it is for those with authority to decide.
    """
    held = [
        Flag(match.group(), match.start(), "say the condition; leave fault to others")
        for match in re.finditer(_BLAME, text, re.IGNORECASE)
    ]
    for name in _names(dossier.all(Party)):
        held += [
            Flag(match.group(), match.start(), "say the role (the applicator, the supplier)")
            for match in re.finditer(rf"\b{re.escape(name)}\b", text)
        ]
    return tuple(sorted(held, key=lambda one: one.start))


def _names(parties: Iterable[Party]) -> list[str]:
    return [party.name for party in parties if party.name.strip()]
