"""Survey: what was seen, looked for and not found, with the photographs of it."""

from collections.abc import Sequence

from workbench.records import Photo, SurveyEntry
from workbench.report.blocks import (
    Block,
    Column,
    Heading,
    Paragraph,
    Plates,
    Row,
    Section,
    Table,
)
from workbench.report.draft import Draft, fact, plain
from workbench.report.exhibiting import plates_of
from workbench.report.refs import in_order
from workbench.report.tallies import by_area, grouped
from workbench.report.text import See
from workbench.report.wording import counted, listed, sentence, span
from workbench.trade.names import form_name

MOST_PLATES = 12
"""Plates in the text; all photographs are in the log and its plates."""


def survey(draft: Draft) -> Section:
    """Return the section on the survey."""
    entries = draft.dossier.all(SurveyEntry)
    photos = draft.dossier.all(Photo)
    blocks: list[Block] = []
    if photos:
        blocks.append(
            fact(
                "survey: when",
                f"Photographs were taken {span(p.taken for p in photos)}; "
                f"{counted(len(photos), 'photograph is', 'photographs are')} listed in ",
                See("table photo log"),
                " with the digest of each original.",
            )
        )
    blocks += _forms(draft, entries)
    blocks += _plates(draft, photos)
    if not blocks:
        blocks.append(plain("No survey is recorded."))
    return Section("survey", "Survey", tuple(blocks), short=False)


def _forms(draft: Draft, entries: Sequence[SurveyEntry]) -> list[Block]:
    if not entries:
        return []
    seen = [one for one in entries if one.seen]
    absent = [one for one in entries if not one.seen]
    blocks: list[Block] = [
        Heading(2, "What was seen, and what was looked for and not found", "forms"),
        fact(
            "survey: forms",
            f"{counted(len(seen), 'entry', 'entries').capitalize()} "
            f"{'records' if len(seen) == 1 else 'record'} what was seen and "
            f"{counted(len(absent), 'entry', 'entries')} what was looked for and not "
            "found. An empty place in ",
            See("table forms"),
            " means that it was not looked for, or that nobody wrote it down; each entry is in ",
            See("table survey entries"),
            ".",
        ),
        *_extent(draft, seen),
        _pivot(draft, entries),
    ]
    return blocks


def _extent(draft: Draft, seen: Sequence[SurveyEntry]) -> list[Block]:
    whole = [one for one in seen if one.extent and one.extent.value > 0]
    blocks: list[Block] = []
    for form, held in grouped(whole, lambda one: one.form).items():
        said = [
            f"{draft.show.quantity(one.extent, '%')} of area {one.at}" for one in held if one.extent
        ]
        plane = held[0].plane
        where = f", at {draft.plane(plane, draft.dossier.area_of(held[0]))}" if plane else ""
        blocks.append(
            fact(
                f"survey: extent of {form}",
                f"Extent of {form_name(form)}{where}: {listed(said)}.",
                of=held,
            )
        )
    return blocks


def _pivot(draft: Draft, entries: Sequence[SurveyEntry]) -> Table:
    areas = list(by_area(draft.dossier, entries))
    columns = (Column("Form or sign"), *(Column(ref or "–") for ref in areas))
    rows = []
    for form, held in grouped(entries, lambda one: one.form).items():
        inside = by_area(draft.dossier, held)
        cells = [form_name(form)]
        cells += [
            "; ".join(found_words(draft, one) for one in inside.get(ref, ())) for ref in areas
        ]
        rows.append(Row(tuple(cells), tuple(one.source for one in held)))
    told = [found_words(draft, one) for one in entries]
    meant = (
        (" of ", "“4 of 6”: found at four of six places looked at"),
        ("%", "a percentage is the share of the area"),
        ("seen", "“seen”: its extent is not recorded"),
        ("none", "“none” was looked for and not found"),
    )
    note = "; ".join(words for sign, words in meant if any(sign in one for one in told))
    caption = "Forms of failure and signs, area by area"
    return Table("forms", caption, columns, tuple(rows), sentence(note))


def found_words(draft: Draft, entry: SurveyEntry) -> str:
    """Return what an entry found: an extent, a count, or that it was seen or not found."""
    if entry.extent:
        value = entry.extent.value
        return draft.show.quantity(entry.extent, "%") if value else "none"
    if entry.count is not None:
        found = f"{entry.count} of {entry.looked_at}" if entry.looked_at else str(entry.count)
        return found if entry.count else f"none of {entry.looked_at}" if entry.looked_at else "none"
    return "seen"


def shown_in_text(draft: Draft) -> frozenset[str]:
    """Return the refs of the photographs that the text shows; the rest follow the photo log."""
    photos = draft.dossier.all(Photo)
    named = {one.photo for one in draft.dossier.all(SurveyEntry) if one.photo}
    first = [one.ref for one in photos if one.ref in named]
    others = [one.ref for one in photos if one.ref and one.ref not in named]
    return frozenset([*first, *others][:MOST_PLATES])


def _plates(draft: Draft, photos: Sequence[Photo]) -> list[Block]:
    shown = shown_in_text(draft)
    chosen = [photo for photo in photos if photo.ref in shown]
    if not chosen:
        return []
    ordered = sorted(chosen, key=lambda photo: in_order(photo.ref))
    plates = plates_of(draft, ordered)
    return [Heading(2, "Photographs", "plates"), _led(plates, len(photos) - len(ordered)), plates]


def _led(plates: Plates, further: int) -> Paragraph:
    """Return what leads to the plates, and where those are that are not among them."""
    first, last = (See(f"photo {plates.plates[at].ref}") for at in (0, -1))
    shown = (first, " shows") if len(plates.plates) == 1 else (first, " to ", last, " show")
    rest = (
        f"; {counted(further, 'further photograph')} {'follows' if further == 1 else 'follow'} ",
        See("table photo log"),
    )
    return plain(*shown, " what was photographed", *(rest if further else ()), ".")
