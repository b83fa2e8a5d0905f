"""Exhibits of a case: numbered once, ordered, stamped, withdrawn and bound into a book."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.desk.acts import Add, Withdraw
from workbench.desk.acts.act import Plan, changing
from workbench.desk.case import Case
from workbench.desk.reporting import Wish, draft_of, place_of
from workbench.records import Dossier, Exhibit, ExhibitKind, KnownError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from workbench.report.blocks import Section
    from workbench.report.draft import Draft
    from workbench.report.exhibits import Shown

    Step = Callable[[int, int], None]

SCHEME = "exhibit scheme"
"""Entry of the case that shows the first number of its exhibits."""
FIRST = "EX-1"
PAGE_DIGITS = 6


@dataclass(frozen=True, slots=True)
class Arrange:
    """Exhibits put in another order, or given their page numbers, in one act."""

    exhibits: tuple[Exhibit, ...]
    what: str
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does."""
        return Plan(what=self.what, changes=changing(self.exhibits, dossier))


def add_exhibit(
    case: Case, of: str, *, kind: str = "", title: str = "", legend: str = ""
) -> Exhibit:
    """Add an exhibit under the next number of the case's scheme.

    Args:
        case: The case.
        of: What it shows: "photo PH-03", "figure plan".
        kind: What it is offered as; empty for what such a thing usually is.
        title: Its title; empty for that of what it shows.
        legend: What stands on every page of it; an aid needs one.

    Raises:
        KnownError: There is nothing of that name, the kind is none, or an aid has no legend.
    """
    from workbench.report.exhibits import Scheme

    kinds = {one.value: one for one in ExhibitKind}
    kind = kind or _usual_kind(of)
    if kind not in kinds:
        raise KnownError(f"“{kind}” is no kind of exhibit; write one of: {', '.join(kinds)}")
    dossier = case.dossier
    held = dossier.all(Exhibit, withdrawn=True)
    scheme = Scheme.read(dossier.entry(SCHEME) or FIRST)
    exhibit = Exhibit(
        ref=scheme.next([one.ref for one in held]),
        order=max((one.order for one in held), default=0) + 1,
        kind=kinds[kind],
        of=of.strip(),
        name=title,
        legend=legend,
    )
    draft, sections = _drafted(case)
    told = _shown(draft, exhibit, sections)
    if told.missing:
        raise KnownError(f"nothing can be shown of it: {told.missing}; {_named(sections)}")
    if kind == ExhibitKind.ILLUSTRATIVE_AID and not legend.strip():
        raise KnownError(
            f"{exhibit.of} would be an illustrative aid; give its legend, what it illustrates, or "
            "say that it is offered as another kind"
        )
    if twin := _twin(dossier, exhibit):
        raise KnownError(f"{exhibit.of} is exhibit {twin.ref} already")
    case.do(Add((exhibit,)))
    return exhibit


def _usual_kind(of: str) -> str:
    """Return what such a thing is offered as: what the program draws or sums up is no evidence."""
    usual = {"figure": ExhibitKind.ILLUSTRATIVE_AID, "table": ExhibitKind.SUMMARY}
    return usual.get(of.split(" ", maxsplit=1)[0], ExhibitKind.SUBSTANTIVE).value


def _named(sections: "Sequence[Section]") -> str:
    """Return how an exhibit is named, with the figures that there are."""
    from workbench.report.blocks import Figure

    blocks = (block for section in sections for block in section.blocks)
    figures = ", ".join(f"“{block.key}”" for block in blocks if isinstance(block, Figure))
    right = "name it as “photo PH-03”, “document DOC-1” or “sample S-2”"
    return f"{right}, or as figure and one of {figures}" if figures else right


def _twin(dossier: Dossier, exhibit: Exhibit) -> Exhibit | None:
    """Return the exhibit that shows the same, offered as the same."""
    alike = (one for one in dossier.all(Exhibit) if one.of.split() == exhibit.of.split())
    return next((one for one in alike if one.kind is exhibit.kind), None)


def withdraw_exhibit(case: Case, ref: str, why: str) -> None:
    """Withdraw an exhibit; it keeps its number and stays in the register.

    Raises:
        KnownError: There is none of that number, or no reason is given.
    """
    exhibit = exhibit_of(case, ref)
    if not why.strip():
        raise KnownError(f"say why exhibit {ref} is withdrawn; the register prints it")
    case.do(Withdraw(exhibit, why))


def move_exhibit(case: Case, ref: str, to: int) -> None:
    """Put an exhibit in the place `to`, counted from 1; the others keep their order.

    Raises:
        KnownError: There is none of that number.
    """
    from workbench.report.exhibits import in_order

    moved = exhibit_of(case, ref)
    others = [one for one in in_order(case.dossier.all(Exhibit)) if one.ref != ref]
    others.insert(max(to - 1, 0), moved)
    changed = [replace(one, order=at) for at, one in enumerate(others, 1) if one.order != at]
    if changed:
        case.do(Arrange(tuple(changed), f"moved exhibit {ref} to place {to}"))


def number_pages(case: Case, prefix: str) -> tuple[Exhibit, ...]:
    """Give page numbers to the exhibits that have none; a number once given is never changed."""
    from workbench.report.exhibit_book import pages_of
    from workbench.report.exhibits import in_order

    draft, sections = _drafted(case)
    last = max((_serial(one.last_page) for one in case.dossier.all(Exhibit, withdrawn=True)),
               default=0)  # fmt: skip
    numbered = []
    for one in in_order(case.dossier.all(Exhibit)):
        if one.first_page:
            continue
        count = pages_of(_shown(draft, one, sections))
        first, last = last + 1, last + count
        numbered.append(
            replace(
                one,
                pages=count,
                first_page=f"{prefix}{first:0{PAGE_DIGITS}d}",
                last_page=f"{prefix}{last:0{PAGE_DIGITS}d}",
            )
        )
    if numbered:
        case.do(Arrange(tuple(numbered), f"numbered the pages of {len(numbered)} exhibits"))
    return tuple(numbered)


def _serial(page: str) -> int:
    digits = page[len(page.rstrip("0123456789")) :]
    return int(digits) if digits else 0


def exhibit_of(case: Case, ref: str) -> Exhibit:
    """Return the exhibit of that number.

    Raises:
        KnownError: There is none, or it is withdrawn.
    """
    found = next((one for one in case.dossier.all(Exhibit) if one.ref == ref), None)
    if found is None:
        held = ", ".join(one.ref for one in case.dossier.all(Exhibit)) or "none"
        raise KnownError(f"there is no exhibit {ref} that is not withdrawn; there is {held}")
    return found


def register_of(case: Case) -> "tuple[Shown, ...]":
    """Return every exhibit with what it shows, those withdrawn too, in their order."""
    from workbench.report.exhibits import in_order

    draft, sections = _drafted(case)
    held = in_order(case.dossier.all(Exhibit, withdrawn=True))
    return tuple(_shown(draft, one, sections) for one in held)


def write_exhibit_book(
    case: Case,
    out: Path,
    step: "Step" = lambda _done, _whole: None,
    records: Dossier | None = None,
) -> tuple[Path, Path | None]:
    """Write the exhibit book as a Word document, and as PDF where LibreOffice is.

    It shows the case, or other `records` of it, such as those that an issued report rests on.

    Raises:
        KnownError: There are no exhibits, or it cannot be written there.
    """
    from workbench.report.document import Binding
    from workbench.report.exhibit_book import write_book
    from workbench.report.pages import number_pages as fill_pages
    from workbench.report.pages import office, write_pdf

    draft, sections = _drafted(case, records)
    if not case.dossier.all(Exhibit):
        raise KnownError("the case has no exhibits; add one first")
    path = place_of(Wish(out=out), f"{case.dossier.entry('reference') or 'case'}-exhibits.docx")
    renders = office() is not None
    binding = Binding(sheet=draft.setup.sheet, numbered=renders, listed=())
    write_book(draft, sections, path, binding, step)
    if not renders:
        return path, None
    fill_pages(path)
    pdf = path.with_suffix(".pdf")
    write_pdf(path, pdf)
    return path, pdf


def write_single_exhibit(case: Case, ref: str, out: Path) -> Path:
    """Write one exhibit as a page of its own, PNG or PDF.

    Raises:
        KnownError: It has no page of its own, or cannot be written there.
    """
    from workbench.report.exhibit_book import write_single

    draft, sections = _drafted(case)
    write_single(draft, _shown(draft, exhibit_of(case, ref), sections), out)
    return out


def _drafted(case: Case, records: Dossier | None = None) -> "tuple[Draft, Sequence[Section]]":
    from workbench.report.writing import sections_of

    draft = draft_of(case, Wish(form="full"), records=records)
    return draft, sections_of(draft)


def _shown(draft: "Draft", exhibit: Exhibit, sections: "Sequence[Section]") -> "Shown":
    from workbench.report.exhibits import shown

    return shown(draft, exhibit, sections)
