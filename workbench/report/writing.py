"""Writing the report: sections drafted, set on paper, and bound with their page numbers."""

from collections.abc import Callable
from pathlib import Path

from workbench.records import Dossier
from workbench.report.blocks import Section
from workbench.report.document import Binding, Imprint, Step, with_end, write_document
from workbench.report.draft import Draft
from workbench.report.editing import with_edits
from workbench.report.given import Form, Picture, Results, Setup, State, no_picture
from workbench.report.profiles import profile
from workbench.report.sections.background import background
from workbench.report.sections.documents import documents
from workbench.report.sections.edition import amendments, signature
from workbench.report.sections.evidence import (
    certification,
    custody,
    instruments,
    journal,
    methods,
    photo_log,
)
from workbench.report.sections.field_tests import field_tests
from workbench.report.sections.laboratory import laboratory
from workbench.report.sections.limits import limits
from workbench.report.sections.opinions import opinions
from workbench.report.sections.person import author as author_section
from workbench.report.sections.questions import questions
from workbench.report.sections.readings import readings
from workbench.report.sections.reasoning import reasoning
from workbench.report.sections.references import references
from workbench.report.sections.repair import repair
from workbench.report.sections.samples import samples
from workbench.report.sections.summary import summary
from workbench.report.sections.survey import survey
from workbench.report.sections.system import system
from workbench.report.short import short_form
from workbench.report.wording import day, typeset

SECTIONS: tuple[Callable[[Draft], Section | None], ...] = (
    amendments, summary, questions, background, documents, system, survey, field_tests, samples,
    laboratory, reasoning, opinions, repair, limits, references, author_section, signature,
    readings, photo_log, custody, methods, instruments, journal, certification,
)  # fmt: skip
"""The sections in their order."""


def sections_of(draft: Draft) -> tuple[Section, ...]:
    """Return the sections of a report, drafted from the records, with what a person edited."""
    drafted = (section(draft) for section in SECTIONS)
    whole = with_edits(draft, tuple(one for one in drafted if one))
    return whole if draft.setup.form is Form.FULL else short_form(whole)


def write_report(
    dossier: Dossier,
    path: Path,
    *,
    setup: Setup,
    results: Results | None = None,
    picture: Picture = no_picture,
    binding: Binding | None = None,
    step: Step = lambda _done, _whole: None,
) -> tuple[Section, ...]:
    """Write the report of a case and return its sections.

    Args:
        dossier: The records.
        path: Where to; the file appears whole or not at all.
        setup: How this edition is made.
        results: What was computed from the records, and what the case file says of itself.
        picture: Gives the file of an original by the name that records use.
        binding: Paper, template and page numbers.
        step: Told how many blocks are done, of how many; may raise to stop.
    """
    draft = Draft(dossier, results or Results(), setup, picture)
    return write_draft(draft, path, binding or Binding(sheet=setup.sheet), step)


def write_draft(
    draft: Draft, path: Path, binding: Binding, step: Step = lambda _done, _whole: None
) -> tuple[Section, ...]:
    """Write what is drafted as a Word document; see `write_report`."""
    sections = with_end(sections_of(draft), draft.setup.number)
    imprint = imprint_of(draft)
    write_document(imprint, sections, path, picture=draft.picture, binding=binding, step=step)
    return sections


def imprint_of(draft: Draft) -> Imprint:
    """Return what a report says of itself."""
    dossier, setup = draft.dossier, draft.setup
    issued = setup.state is State.ISSUED
    state = f"{setup.state.value.capitalize()} {day(setup.moment)}"
    facts = (
        ("Report", setup.number),
        ("Replaces", setup.replaces),
        ("Addressed to", profile(setup.profile).addressee if setup.profile else ""),
        ("Prepared for", dossier.entry("client")),
        ("Site", dossier.entry("site")),
        ("Object", typeset(dossier.entry("object"))),
        ("Author", draft.author or "not recorded"),
        ("Checked by", setup.checked_by or "not yet checked"),
        ("Authorised by", setup.authorised_by or "not yet authorised"),
        ("Date of issue", day(setup.moment) if issued else "not issued"),
    )
    remarks = (
        (
            "Results relate only to the places and items tested. This report is not to be "
            "reproduced except in full without the consent of its author."
        ),
    )
    title = dossier.entry("title") or "Coating failure"
    return Imprint(
        number=setup.number,
        title=f"Investigation report: {title}",
        subtitle=" · ".join(filter(None, (dossier.entry("site"), dossier.entry("reference")))),
        state=state if issued else f"{state} – not for reliance",
        practice=draft.practice or "Practice not recorded",
        facts=facts,
        author=draft.author or "not recorded",
        moment=setup.moment,
        draft=not issued,
        remarks=remarks,
    )
