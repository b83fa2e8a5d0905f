"""The checklist of a report: which items of its profile are settled, open, or left open."""

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
    """Return the items of the profile wished for; none where no profile is chosen."""
    from workbench.report.profiles import left_open, profile, settled

    draft = _draft(case, wish)
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
    return _enter(case, wish, key, "", words)


def leave_open(case: "Case", wish: Wish, key: str, reason: str) -> Statement:
    """Enter why the report does without an item; the reason is printed in it.

    Raises:
        KnownError: The profile has no such item, or no reason is written.
    """
    from workbench.report.profiles import WITHOUT

    return _enter(case, wish, key, WITHOUT, reason)


def _enter(case: "Case", wish: Wish, key: str, before: str, words: str) -> Statement:
    from workbench.report.profiles import profile

    named = _draft(case, wish).setup.profile
    items = {item.key: item for item in profile(named).items} if named else {}
    if key not in items:
        known = ", ".join(items) or "none, since no profile is chosen"
        raise KnownError(f"“{key}” is no item of the profile; its items are: {known}")
    if not words.strip():
        raise KnownError(f"write what is to stand in the report for “{key}”")
    if items[key].kind == "locked" and not before:
        raise KnownError(f"the words of “{key}” are locked; write why the report does without them")
    now = When(datetime.now(UTC).astimezone(case.dossier.zone).isoformat(" ", "minutes"))
    held = case.dossier.find(Statement, f"{before}{key}")
    made = replace(
        held or Statement(key=f"{before}{key}", words=""),
        words=words.strip(), by=case.author, dated=now,
    )  # fmt: skip
    case.do(Change(made) if held else Add((made,)))
    return made
