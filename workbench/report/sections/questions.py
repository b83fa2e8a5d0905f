"""Instruction, the questions put, and how the report is to be read."""

from workbench.records import CaseEntry, LabResult, Party, Plane, Source, When
from workbench.records.codes import Role
from workbench.records.planes import MOST_COATS
from workbench.report.blocks import Block, Heading, Paragraph, Row, Section, Table, Voice, headed
from workbench.report.draft import Draft, fact, plain
from workbench.report.given import Form
from workbench.report.sections.person import instruction_blocks
from workbench.report.tabling import said_once
from workbench.report.tallies import grouped
from workbench.report.text import See, Value, see_all, text
from workbench.report.wording import coat_words, counted, moment, plane_first


def questions(draft: Draft) -> Section:
    """Return the section on the instruction and the questions put."""
    dossier = draft.dossier
    opened, client = dossier.entry("opened"), dossier.entry("client")
    blocks: list[Block] = []
    if client:
        start = f" The matter was opened on {moment(When.read(opened))}." if opened else ""
        blocks.append(
            fact(
                "questions: instruction",
                "The instruction came from ",
                draft.value("case: client"),
                ".",
                start,
                of=_entries(draft, "client", "opened"),
            )
        )
    put = dossier.questions
    if put:
        blocks.append(
            plain(
                f"{counted(len(put), 'question').capitalize()} "
                f"{'was' if len(put) == 1 else 'were'} put:"
            )
        )
        blocks += [_question(draft, number, words) for number, words in enumerate(put, 1)]
    else:
        blocks.append(plain("No question is recorded; without one a report answers nothing."))
    blocks += instruction_blocks(draft)
    blocks += _parties(draft)
    blocks += _how_to_read(draft)
    return Section("questions", "Instruction and questions put", tuple(blocks))


def _entries(draft: Draft, *keys: str) -> tuple[CaseEntry, ...]:
    found = (draft.dossier.find(CaseEntry, key) for key in keys)
    return tuple(entry for entry in found if entry)


def _question(draft: Draft, number: int, words: str) -> Paragraph:
    key = next((e.key for e in draft.dossier.all(CaseEntry) if e.value == words), "")
    return Paragraph(
        text(f"Question {number}. ", Value("", words, (Source("case_entry", key),))), Voice.ITEM
    )


def _parties(draft: Draft) -> list[Block]:
    parties = draft.dossier.all(Party)
    if not parties:
        return []
    rows = [
        Row((one.name, one.role.value, one.contact or "not recorded"), (one.source,))
        for one in parties
    ]
    rows += _analysts(draft, {one.name for one in parties})
    columns = headed("Name", "Part in the matter", "Contact")
    caption = "Persons and firms with a part in the matter"
    return [
        Heading(2, "Persons and firms", "parties"),
        plain(
            See("table parties"),
            " names persons and firms by the part they have in the matter. A cause is a "
            "condition of the coating; no finding in this report is a finding about a person.",
        ),
        said_once(Table("parties", caption, columns, tuple(rows))),
    ]


def _analysts(draft: Draft, named: set[str]) -> list[Row]:
    """Return the analysts who are named with results and not among the parties."""
    held = [one for one in draft.dossier.all(LabResult) if one.analyst not in ("", *named)]
    return [
        Row((name, f"analyst, {some[0].laboratory or 'laboratory not recorded'}", "–"),
            tuple(one.source for one in some))
        for name, some in grouped(held, lambda one: one.analyst).items()
    ]  # fmt: skip


_SHORT = {
    "l-ftir": ("FTIR, infrared spectroscopy", "ATR, attenuated total reflection at the surface"),
    "l-sem-eds": ("SEM, scanning electron microscope", "EDS, its analysis of elements by X-rays"),
    "l-dsc": ("DSC, differential scanning calorimetry", "Tg, glass transition temperature"),
    "l-retained-qc": ("QC, control of the properties of a material",),
    "f-profile-concrete": ("CSP, concrete surface profile",),
}
"""What is short in the report, by the test that brings it in."""


def _abbreviations(draft: Draft) -> list[Block]:
    if draft.setup.form is Form.SHORT:
        return []
    used = {str(getattr(one, "method", "")) for one in draft.dossier.everything()}
    said = [words for test, some in _SHORT.items() if test in used for words in some]
    if any(one.uncertainty for one in draft.dossier.all(LabResult)):
        said.append("k, the coverage factor of an uncertainty")
    if draft.results.originals:
        said.append("SHA-256, a digest that changes with any byte of a file")
    return [plain(f"Abbreviations: {'; '.join(said)}.")] if said else []


def _how_to_read(draft: Draft) -> list[Block]:
    investigators = [p.name for p in draft.dossier.all(Party) if p.role is Role.INVESTIGATOR]
    found = f" by {' and '.join(investigators)} or" if investigators else ""
    blocks: list[Block] = [
        Heading(2, "How this report is to be read", "reading"),
        plain(
            "Facts, inferences and opinions are kept apart. A fact is what was recorded, seen "
            f"or measured{found} by a person named beside it. A paragraph "
            "that draws an inference is marked Inference and has a grey rule at its side; an "
            "opinion is marked Opinion, has a dark rule, and stands in the section on opinions "
            "and, repeated, in the summary. Paragraphs are numbered through so that they can be "
            "cited."
        ),
        plain(
            "Refs in small type, in square brackets or in a column headed From, name the "
            f"records that a statement rests on; the readings themselves are in {_where(draft)}. "
            "† marks what was supplied by others and could not be verified here: papers, daily "
            "logs, data sheets, weather records. ‡ marks a result found by an outside "
            "laboratory."
        ),
        plain("“Not known” and “not recorded” mean that nobody said; they never mean “no”."),
    ]
    return [*blocks, *_abbreviations(draft), *_planes(draft)]


def _where(draft: Draft) -> str:
    short = draft.setup.form is Form.SHORT
    return "the full report" if short else "the appendices"


def _planes(draft: Draft) -> list[Block]:
    if not draft.systems:
        return []
    blocks: list[Block] = [
        plain(
            "Where a test broke is given by the notation of ISO 4624: A is the substrate, B the "
            "first coat, and so on upward; two letters with a stroke are the interface between "
            "two layers; a break in or at the glue says only that every layer held at least "
            "that much. ",
            *see_all([f"table planes {layers[0].system}" for layers in draft.systems]),
            f" {'has' if len(draft.systems) == 1 else 'have'} their names, and every plane is "
            "named with its letters.",
        ),
    ]
    for layers in draft.systems:
        rows = []
        for coat in reversed(layers):
            top = coat is layers[-1] or not 0 <= coat.order < MOST_COATS
            upper = "–" if top else plane_first(Plane.above(coat.order), draft.dossier, layers)
            name = f"{coat_words(coat)} ({draft.plane_letter(coat)})"
            rows.append(Row((name, upper), (coat.source,)))
        columns = headed("Layer, from the top down", "Plane between it and the next above")
        key = f"planes {layers[0].system}"
        blocks.append(
            Table(
                key,
                f"Layers and planes of system {layers[0].system}",
                columns,
                tuple(rows),
                traced=False,
            )
        )
    return blocks
