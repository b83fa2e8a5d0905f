"""The checklist of a report: what is settled, open, or left open for a written reason.

It has the items of the profile, and what touches the evidence itself: broken custody, and doubts
by which readings are set aside.
"""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from workbench.desk.acts import Add, Change
from workbench.desk.issuing import in_hand
from workbench.desk.reporting import Wish, setup_of
from workbench.records import KnownError, Statement, When

if TYPE_CHECKING:
    from workbench.desk.case import Case
    from workbench.report.draft import Draft
    from workbench.report.standing import Standing


@dataclass(frozen=True, slots=True)
class ItemState:
    """One item of a profile and how it stands.

    Attributes:
        key: What a statement under it is called.
        asks: What it asks for.
        source: Where that stands.
        stands: "settled", "open", "open, hinders the issue", or "left open: " and the reason.
        open: Whether nothing settles it.
        hinders: Whether the report cannot be issued as it stands.
    """

    key: str
    asks: str
    source: str
    stands: str
    open: bool
    hinders: bool


def checklist(case: "Case", wish: Wish) -> tuple[ItemState, ...]:
    """Return the items of the profile wished for, if any, and what touches the evidence."""
    draft = _draft(case, wish)
    return (*_items(draft), *map(_state, _standing(case, draft)))


def _items(draft: "Draft") -> "tuple[ItemState, ...]":
    from workbench.report.profiles import left_open, profile, settled

    if not draft.setup.profile:
        return ()
    states = []
    for item in profile(draft.setup.profile).items:
        reason = left_open(draft, item)
        is_open = not settled(draft, item)
        hinders = item.hinders and is_open and reason is None
        words = "open, hinders the issue" if hinders else "open" if is_open else "settled"
        stands = f"left open: {reason.words}" if reason else words
        states.append(ItemState(item.key, item.asks, item.source, stands, is_open, hinders))
    return tuple(states)


def _standing(case: "Case", draft: "Draft") -> "tuple[Standing, ...]":
    from workbench.analysis.doubts import doubts_of
    from workbench.report.given import Results
    from workbench.report.standing import standing

    return standing(replace(draft, results=Results(doubts=doubts_of(case.dossier))))


def _state(one: "Standing") -> ItemState:
    stands = f"left open: {one.reason.words}" if one.reason else "open, hinders the issue"
    asks = f"{one.words}; {one.remedy}"
    return ItemState(one.key, asks, "the records", stands, open=True, hinders=one.reason is None)


def _draft(case: "Case", wish: Wish) -> "Draft":
    """Return what items are settled by: the records alone, nothing computed."""
    from workbench.report.draft import Draft
    from workbench.report.given import Results

    return Draft(case.dossier, Results(), setup_of(case, wish, in_hand(case.dossier)))


def state_item(case: "Case", wish: Wish, key: str, words: str) -> Statement:
    """Enter what a person states under an item of the profile.

    Raises:
        KnownError: The profile has no such item, or nothing is said.
    """
    return _enter(case, _draft(case, wish), key, "", words)


def leave_open(case: "Case", wish: Wish, key: str, reason: str) -> Statement:
    """Enter why the report does without an item, or leaves a grave point open; it is printed.

    Raises:
        KnownError: Neither the profile nor the evidence has such an item, or no reason is written.
    """
    from workbench.report.profiles import WITHOUT

    draft = _draft(case, wish)
    grave = tuple(one.key for one in _standing(case, draft))
    if key in grave:
        return _write(case, f"{WITHOUT}{key}", reason, f"why the report leaves “{key}” open")
    return _enter(case, draft, key, WITHOUT, reason, grave)


def _enter(
    case: "Case", draft: "Draft", key: str, before: str, words: str, beside: tuple[str, ...] = ()
) -> Statement:
    from workbench.report.profiles import profile

    named = draft.setup.profile
    items = {item.key: item for item in profile(named).items} if named else {}
    if key not in items:
        known = ", ".join(items) or "none, since no profile is chosen"
        grave = f"; of the evidence there stand open: {', '.join(beside)}" if beside else ""
        raise KnownError(f"“{key}” is no item of the profile; its items are: {known}{grave}")
    if items[key].kind == "locked" and not before:
        raise KnownError(f"the words of “{key}” are locked; write why the report does without them")
    return _write(case, f"{before}{key}", words, f"what is to stand in the report for “{key}”")


def _write(case: "Case", key: str, words: str, wanted: str) -> Statement:
    if not words.strip():
        raise KnownError(f"write {wanted}")
    now = When(datetime.now(UTC).astimezone(case.dossier.zone).isoformat(" ", "minutes"))
    held = case.dossier.find(Statement, key)
    made = replace(
        held or Statement(key=key, words=""),
        words=words.strip(), by=case.author, dated=now,
    )  # fmt: skip
    case.do(Change(made) if held else Add((made,)))
    return made
