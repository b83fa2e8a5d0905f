"""Which headline numbers of a report are not those of the edition that it replaces."""

from dataclasses import replace
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from workbench.desk.issuing import as_issued, latest_issued

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.desk.case import Case
    from workbench.records import Dossier
    from workbench.report.draft import Draft
    from workbench.report.given import Results
    from workbench.report.headlines import Headlines

_OF_EDITIONS: "WeakKeyDictionary[Case, dict[tuple[str, str], Headlines]]" = WeakKeyDictionary()
"""Headlines of editions issued, which never change, by number and units; worked out once."""


def with_moved(case: "Case", draft: "Draft", compute: "Callable[[Dossier], Results]") -> "Draft":
    """Return a draft that says which headlines are not those of the edition it replaces.

    Args:
        case: The case.
        draft: The draft.
        compute: Gives what is computed from the records behind an edition.
    """
    from workbench.report.headlines import headlines, moved

    issued = latest_issued(case.dossier)
    if issued is None or not draft.setup.amendments:
        return draft
    held = _OF_EDITIONS.setdefault(case, {})
    key = (issued.ref, str(draft.setup.system))
    if key not in held:
        records = as_issued(case, issued)
        held[key] = headlines(replace(draft, dossier=records, results=compute(records)))
    found = moved(held[key], headlines(draft))
    return replace(draft, setup=replace(draft.setup, moved=found))
