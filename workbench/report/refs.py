"""References to records in few letters, and in an order that a person expects."""

import re
from collections.abc import Iterable, Sequence

from workbench.records import BY_NOUN, Source
from workbench.report.wording import counted, typeset
from workbench.trade.names import spoken

_PARTS = re.compile(r"(\d+)")
_ENDS_IN_NUMBER = re.compile(r"(.*?)(\d+)$")


def in_order(label: str) -> tuple[tuple[int, str], ...]:
    """Return a key that sorts P-2 before P-10."""
    return tuple(
        (int(part) if part.isdecimal() else -1, part) for part in _PARTS.split(label) if part
    )


def in_short(sources: Iterable[Source], most: int = 8) -> str:
    """Return sources as a reader sees them: "P-01 to P-06, L-3"; what is too much is counted."""
    by_noun: dict[str, list[str]] = {}
    for source in dict.fromkeys(sources):
        by_noun.setdefault(source.noun, []).append(source.label)
    said = [part for noun, labels in by_noun.items() for part in _of_one_kind(noun, labels)]
    if len(said) <= most:
        return ", ".join(said)
    return ", ".join(said[:most]) + f" and {len(said) - most} more"


_BETWEEN = " · "
_SHORT_LABEL = 40
_FEW = 2
"""Up to how many records without a ref are named, and not only counted."""
_WORDS = {"case_entry": "case entry", "coat": "layer"}


def _of_one_kind(noun: str, labels: list[str]) -> list[str]:
    kind = BY_NOUN.get(noun)
    has_ref = kind is not None and kind.identity[0] == "ref"
    if has_ref:
        labels = list(dict.fromkeys(label.split(_BETWEEN)[0] for label in labels))
    labels.sort(key=in_order)
    if has_ref:
        return list(_ranges(labels))
    word = _WORDS.get(noun, kind.title.lower() if kind else noun)
    if len(labels) <= _FEW and all(len(label) <= _SHORT_LABEL for label in labels):
        return [f"{word} {_said(label)}" for label in labels]
    return [counted(len(labels), word, f"{word[:-1]}ies" if word.endswith("y") else "")]


def _said(label: str) -> str:
    """Return a label as it is read: "S-04, 2024-11-22 09:04, received"."""
    return typeset(spoken(label.replace(_BETWEEN, " ")))


def _ranges(labels: Sequence[str]) -> Iterable[str]:
    start = 0
    for at in range(1, len(labels) + 1):
        if at < len(labels) and _follows(labels[at - 1], labels[at]):
            continue
        first, last = labels[start], labels[at - 1]
        if at - start > 2:
            yield f"{first} to {last}"
        else:
            yield from labels[start:at]
        start = at


def _follows(one: str, other: str) -> bool:
    before, after = _ENDS_IN_NUMBER.fullmatch(one), _ENDS_IN_NUMBER.fullmatch(other)
    if not before or not after:
        return False
    return before[1] == after[1] and int(after[2]) == int(before[2]) + 1
