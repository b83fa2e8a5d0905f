"""What a case chooses where sources disagree or a rule is the program's own, as journalled acts."""

from dataclasses import replace
from difflib import get_close_matches
from typing import TYPE_CHECKING

from workbench.desk.acts import Add, Change, Withdraw
from workbench.records import CaseEntry, Dossier, KnownError

if TYPE_CHECKING:
    from workbench.trade.settings import Choice


class UnchosenError(KnownError):
    """A choice that cannot be, or that lacks its reason."""


def named(dossier: Dossier, name: str) -> "Choice":
    """Return the choice of a name as it stands in the case.

    Raises:
        UnchosenError: There is none.
    """
    from workbench.reasoning import choices_of

    held = {one.name: one for one in choices_of(dossier)}
    if name not in held:
        near = get_close_matches(name, held, n=3)
        meant = f"; did you mean {' or '.join(near)}?" if near else ""
        raise UnchosenError(f"there is no rule “{name}”{meant}")
    return held[name]


def choose(dossier: Dossier, choice: "Choice", text: str, why: str) -> Add | Change:
    """Return the act that chooses what `text` says.

    Raises:
        UnchosenError: It cannot be chosen, or there is no reason.
    """
    try:
        choice.read(text)
    except ValueError as wrong:
        raise UnchosenError(f"“{text.strip()}” cannot be chosen; give {choice.right}.") from wrong
    _say_why(why)
    held = dossier.find(CaseEntry, choice.key)
    if held is None:
        said = CaseEntry(key=choice.key, value=text.strip(), origin="chosen at the desk")
        return Add((said,), why.strip())
    return Change(replace(held, value=text.strip(), withdrawn=""), why.strip())


def choose_usual(dossier: Dossier, choice: "Choice", why: str) -> Withdraw:
    """Return the act that goes back to the default.

    Raises:
        UnchosenError: Nothing is chosen, or there is no reason.
    """
    held = entry_of(dossier, choice)
    if held is None:
        raise UnchosenError("Nothing is chosen here; the usual rule holds.")
    _say_why(why)
    return Withdraw(held, why.strip())


def entry_of(dossier: Dossier, choice: "Choice") -> CaseEntry | None:
    """Return the case entry that keeps a choice; None where the default holds."""
    held = dossier.find(CaseEntry, choice.key)
    return held if held and not held.withdrawn else None


def _say_why(why: str) -> None:
    if not why.strip():
        raise UnchosenError("Say why this case departs from what is usual; it is printed.")
