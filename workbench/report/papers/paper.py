"""Custody papers as Word documents: what they have in common, and how they are written."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from workbench.records import Dossier, Party, Sample
from workbench.records.codes import Role
from workbench.report.blocks import Block, Paragraph, Section, Voice
from workbench.report.document import Binding, Imprint, with_end, write_document
from workbench.report.given import Picture, no_picture
from workbench.report.papers.biography import biography
from workbench.report.papers.form import form_sections
from workbench.report.papers.receipt import receipt_section
from workbench.report.text import text
from workbench.report.wording import day

Step = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class CustodyHeads:
    """What vouches for the ledger up to now, printed on every paper that leaves.

    Attributes:
        count: Number of entries in the custody ledger.
        digest: Hash of the last entry.
    """

    count: int
    digest: str


def write_custody_form(
    dossier: Dossier,
    path: Path,
    *,
    samples: Sequence[Sample],
    heads: CustodyHeads,
    at: datetime,
    picture: Picture = no_picture,
    step: Step = lambda _done, _whole: None,
) -> None:
    """Write the custody form of some samples, with the story of each.

    Args:
        dossier: The records.
        path: Where to; the file appears whole or not at all.
        samples: Those that the form is for.
        heads: Head of the custody ledger.
        at: When it is written.
        picture: Gives the file of an original.
        step: Told how far it is; may raise to stop.
    """
    sections = (
        *form_sections(dossier, samples, _vouching(heads)),
        *(biography(dossier, sample) for sample in samples),
    )
    _write(dossier, path, "Chain of custody", sections, at=at, picture=picture, step=step)


def write_receipt(
    dossier: Dossier,
    path: Path,
    *,
    samples: Sequence[Sample],
    receiver: str,
    heads: CustodyHeads,
    at: datetime,
) -> None:
    """Write the receipt for samples just received, for both parties to sign.

    Args:
        dossier: The records, the receipt's entries among them.
        path: Where to; the file appears whole or not at all.
        samples: What was received.
        receiver: Who received it.
        heads: Head of the custody ledger.
        at: When it is written.
    """
    sections = (receipt_section(dossier, samples, receiver, _vouching(heads)),)
    _write(dossier, path, "Receipt for samples", sections, at=at)


def _vouching(heads: CustodyHeads) -> Block:
    words = (
        f"At the time of printing the custody ledger of this case has {heads.count} entries; the "
        f"SHA-256 of the last is {heads.digest}. Whoever keeps this paper can later show that no "
        "entry up to then was changed or taken out. Times are those of the computer they were "
        "entered on."
    )
    return Paragraph(text(words), voice=Voice.PLAIN)


def _write(
    dossier: Dossier,
    path: Path,
    title: str,
    sections: Sequence[Section],
    *,
    at: datetime,
    picture: Picture = no_picture,
    step: Step = lambda _done, _whole: None,
) -> None:
    reference = dossier.entry("reference") or "case without reference"
    investigators = [one for one in dossier.all(Party) if one.role is Role.INVESTIGATOR]
    author = investigators[0] if investigators else None
    contact = ", ".join(filter(None, (author.name, author.contact))) if author else ""
    facts = (
        ("Case", reference),
        ("Object", dossier.entry("object")),
        ("Site", dossier.entry("site")),
        ("Client", dossier.entry("client")),
        ("Whom to ask", contact),
    )
    imprint = Imprint(
        number=reference,
        title=title,
        subtitle=dossier.entry("title"),
        state=f"Printed {day(at)}",
        practice=contact or "Practice not recorded",
        facts=facts,
        author=author.name if author else "not recorded",
        moment=at,
        draft=False,
        kind=title,
    )
    bound = Binding(listed=(), has_contents=False, ask_word=False)
    whole = with_end(tuple(sections), reference, title.lower())
    write_document(imprint, whole, path, picture=picture, binding=bound, step=step)
