"""Profiles: what a kind of report is asked to hold, as dated lists of items that stay open.

A profile is data in `resources/report/profiles/`; it is a checklist with sources, no legal
advice, and no claim that a report meets a rule.
"""

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache

from workbench.records import (
    Credential,
    CredentialKind,
    Document,
    Edition,
    Exhibit,
    Instruction,
    KnownError,
    LabResult,
    Measurement,
    Opinion,
    Party,
    PullOff,
    Rating,
    Statement,
)
from workbench.records.codes import Role
from workbench.report.draft import Draft
from workbench.report.sections.opinions import basis_of
from workbench.resources import report_profile_names, resource


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One item of a profile.

    Attributes:
        key: What a statement under it is called.
        asks: What the item asks for.
        kind: How it is settled; see `settled`.
        hinders: Whether the report is not issued while it is open and no reason is written.
        source: The rule or standard it comes from.
        status: How that source is known.
        entry: For an entry of the case: its key.
        credential: For credentials: which kind.
        years: For credentials: how far back; 0 for all.
        heading: For a locked text: its heading.
        text: For a locked text: its words, which nobody edits.
        version: For a locked text: which version it is.
    """

    key: str
    asks: str
    kind: str
    source: str
    status: str
    hinders: bool = False
    entry: str = ""
    credential: str = ""
    years: int = 0
    heading: str = ""
    text: str = ""
    version: str = ""


@dataclass(frozen=True, slots=True)
class Profile:
    """A dated checklist for one kind of report."""

    name: str
    title: str
    dated: date
    rules_as_of: str
    addressee: str
    items: tuple[Item, ...]

    @property
    def locked(self) -> tuple[Item, ...]:
        """Texts that stand in the report as they are."""
        return tuple(item for item in self.items if item.kind == "locked")


@cache
def profile(name: str) -> Profile:
    """Return the profile called `name`.

    Raises:
        KnownError: There is none of that name.
    """
    try:
        said = tomllib.loads(resource(f"report/profiles/{name}.toml").read_text("utf-8"))
    except FileNotFoundError as wrong:
        known = ", ".join(report_profile_names())
        raise KnownError(f"“{name}” is no profile of the report; write one of: {known}") from wrong
    items = tuple(Item(**one) for one in said["items"])
    return Profile(
        name, said["title"], said["dated"], said["rules_as_of"], said["addressee"], items
    )


def open_items(draft: Draft, wanted: Profile) -> tuple[Item, ...]:
    """Return the items of a profile that nothing in the case settles yet."""
    return tuple(item for item in wanted.items if not settled(draft, item))


def settled(draft: Draft, item: Item) -> bool:
    """Return whether the records settle an item; a statement under its key always does."""
    return bool(statement(draft, item.key)) or _SETTLED[item.kind](draft, item)


def statement(draft: Draft, key: str) -> Statement | None:
    """Return what is stated under a key; None where nothing is, or it was withdrawn."""
    held = draft.dossier.find(Statement, key)
    return None if held is None or held.withdrawn else held


WITHOUT = "without "
"""A statement under this word and an item's key says why the report does without the item."""


def left_open(draft: Draft, item: Item) -> Statement | None:
    """Return the written reason for which an open item is left open; None where there is none."""
    reason = statement(draft, f"{WITHOUT}{item.key}")
    return reason if reason and not settled(draft, item) else None


def _entry(draft: Draft, item: Item) -> bool:
    return bool(draft.dossier.entry(item.entry))


def _practice(draft: Draft, _item: Item) -> bool:
    parties = draft.dossier.all(Party)
    return any(one.role is Role.INVESTIGATOR and one.contact for one in parties)


def _opinions(draft: Draft, _item: Item) -> bool:
    held = draft.dossier.all(Opinion)
    asked = enumerate(draft.dossier.questions, 1)
    answered = all(any(o.answers(n, q) for o in held) for n, q in asked)
    return bool(held) and answered and all(basis_of(one) for one in held)


def _range(draft: Draft, _item: Item) -> bool:
    held = draft.dossier.all(Opinion)
    return bool(held) and all(one.range_of_opinion for one in held)


def _deviations(draft: Draft, _item: Item) -> bool:
    return all(one.deviation for one in draft.dossier.all(LabResult))


def _operators(draft: Draft, _item: Item) -> bool:
    on_site = (
        *draft.dossier.all(PullOff), *draft.dossier.all(Rating), *draft.dossier.all(Measurement)
    )  # fmt: skip
    analysed = all(one.analyst for one in draft.dossier.all(LabResult))
    return analysed and all(getattr(one, "operator", "") for one in on_site)


def _credentials(draft: Draft, item: Item) -> bool:
    return bool(credentials_of(draft, CredentialKind(item.credential), item.years))


def credentials_of(draft: Draft, kind: CredentialKind, years: int = 0) -> tuple[Credential, ...]:
    """Return the credentials of a kind; of the `years` before the report where that is said."""
    held = (one for one in draft.dossier.all(Credential) if one.kind is kind)
    if not years:
        return tuple(held)
    today = draft.setup.moment.date()
    first = _years_before(today, years)
    return tuple(one for one in held if one.date is None or first <= one.date.day() <= today)


def _years_before(day: date, years: int) -> date:
    try:
        return day.replace(year=day.year - years)
    except ValueError:
        return day.replace(year=day.year - years, day=28)


_SETTLED: dict[str, Callable[[Draft, Item], bool]] = {
    "entry": _entry,
    "practice": _practice,
    "opinions": _opinions,
    "range": _range,
    "deviations": _deviations,
    "operators": _operators,
    "credentials": _credentials,
    "documents": lambda draft, _item: bool(draft.dossier.all(Document)),
    "exhibits": lambda draft, _item: bool(draft.dossier.all(Exhibit)),
    "instructions": lambda draft, _item: bool(draft.dossier.all(Instruction)),
    "signed": lambda draft, _item: any(one.signed for one in draft.dossier.all(Edition)),
    "statement": lambda _draft, _item: False,
    "locked": lambda draft, item: statement(draft, f"{WITHOUT}{item.key}") is None,
}
"""How an item is settled, by its kind."""
