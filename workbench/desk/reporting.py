"""Writing the report of a case: what is computed, how this edition is made, where it goes."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from workbench.records import KnownError

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.desk.case import Case
    from workbench.records import Dossier
    from workbench.report.blocks import Section
    from workbench.report.given import Results, Setup
    from workbench.trade.showing import Showing

    Step = Callable[[int, int], None]

E = TypeVar("E", bound=StrEnum)

NO_PDF = (
    "No PDF was made: LibreOffice is not on this machine. The contents have no page numbers yet; "
    "Word fills them in when it opens the document and is told to update its fields."
)
WORD_ASKS = (
    "When Word opens the document it asks whether to update its fields; answer yes, so that the "
    "page numbers are those of your printer and fonts."
)


@dataclass(frozen=True, slots=True)
class Wish:
    """What a person wants of a report.

    Attributes:
        out: File or folder; None for the current folder.
        form: "full" or "short".
        units: "SI", "US" or "both"; empty for those of the case.
        paper: "A4" or "Letter".
        pdf: Whether a PDF is wanted beside the document, where the machine can make one.
    """

    out: Path | None = None
    form: str = "full"
    units: str = ""
    paper: str = ""
    pdf: bool = True


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Attributes:
        document: The Word document.
        pdf: The PDF; None where none was made.
        pages: How many pages it has; 0 where nobody counted.
        remarks: What a person should know, as sentences.
    """

    document: Path
    pdf: Path | None
    pages: int
    remarks: tuple[str, ...]


def write_report(case: "Case", wish: Wish, step: "Step" = lambda _done, _whole: None) -> Written:
    """Write the draft report of a case.

    Args:
        case: The case.
        wish: What is wanted.
        step: Told how far it is; may raise to stop, which leaves nothing behind.

    Raises:
        KnownError: It cannot be written there.
    """
    from workbench.report.document import Binding
    from workbench.report.pages import NoOfficeError, number_pages, office, write_pdf
    from workbench.report.writing import write_report as write
    from workbench.trade.showing import Showing

    setup = setup_of(case.dossier, wish)
    path = place_of(wish, f"{setup.number}-{setup.state.value}.docx")
    results = results_of(case, Showing(setup.system))
    renders = office() is not None
    binding = Binding(sheet=setup.sheet, numbered=renders)
    half = path.with_name(f".{path.name}")
    try:
        write(
            case.dossier,
            half,
            setup=setup,
            results=results,
            picture=case.original,
            binding=binding,
            step=step,
        )
        pages = number_pages(half) if renders else 0
        half.replace(path)
    except NoOfficeError as wrong:
        return _without_office(case, path, setup, results, str(wrong))
    finally:
        half.unlink(missing_ok=True)
    pdf = path.with_suffix(".pdf") if renders and wish.pdf else None
    if pdf:
        write_pdf(path, pdf)
    return Written(path, pdf, pages, (WORD_ASKS,) if renders else (NO_PDF,))


def _without_office(
    case: "Case", path: Path, setup: "Setup", results: "Results", wrong: str
) -> Written:
    from workbench.report.document import Binding
    from workbench.report.writing import write_report as write

    binding = Binding(sheet=setup.sheet)
    write(case.dossier, path, setup=setup, results=results, picture=case.original, binding=binding)
    return Written(path, None, 0, (f"{wrong}. {NO_PDF.partition(': ')[2]}",))


def sections(case: "Case", wish: Wish | None = None) -> "tuple[Section, ...]":
    """Return the sections of the report as they would be written now."""
    from workbench.report.draft import Draft
    from workbench.report.writing import sections_of
    from workbench.trade.showing import Showing

    setup = setup_of(case.dossier, wish or Wish())
    results = results_of(case, Showing(setup.system))
    return sections_of(Draft(case.dossier, results, setup, case.original))


def results_of(case: "Case", showing: "Showing | None" = None) -> "Results":
    """Return what is computed from the records, and what the case file says of itself."""
    from workbench.report.given import Head, JournalLine, Original

    heads = case.heads
    return replace(
        computed(case.dossier, showing),
        originals=tuple(Original(one.name, one.digest, one.size) for one in case.originals),
        journal=tuple(
            JournalLine(one.seq, one.recorded_at, one.who, one.what, one.why)
            for one in case.journal()
        ),
        heads=(
            Head("journal", heads.journal.count, heads.journal.hash),
            Head("custody ledger", heads.ledger.count, heads.ledger.hash),
        ),
    )


def computed(dossier: "Dossier", showing: "Showing | None" = None) -> "Results":
    """Return what is computed from records alone, its words in the units of `showing`."""
    from workbench.analysis.doubts import doubts_of
    from workbench.analysis.strength import strength_by_plane
    from workbench.records import PullOff
    from workbench.report.given import Results

    strength = strength_by_plane(dossier) if dossier.all(PullOff) else None
    return Results(strength=strength, doubts=doubts_of(dossier, showing=showing))


def setup_of(dossier: "Dossier", wish: Wish) -> "Setup":
    """Return how a draft is made.

    Raises:
        KnownError: A wish is not one of those there are.
    """
    from workbench.report.given import Form, Setup
    from workbench.report.wordml import A4, LETTER
    from workbench.trade.showing import System

    said = wish.units or dossier.entry("units") or "SI"
    system = _one_of(System, said, "units")
    paper = wish.paper or ("Letter" if system is System.US else "A4")
    sheets = {"a4": A4, "letter": LETTER}
    if paper.lower() not in sheets:
        raise KnownError(f"“{paper}” is no paper of the report; write A4 or Letter")
    return Setup(
        number=f"{dossier.entry('reference') or 'report'}-R1",
        moment=datetime.now(UTC).astimezone(dossier.zone),
        form=_one_of(Form, wish.form, "form"),
        system=system,
        sheet=sheets[paper.lower()],
    )


def _one_of(words: type[E], said: str, what: str) -> E:
    for word in words:
        if str(word).lower() == said.lower():
            return word
    raise KnownError(f"“{said}” is no {what} of the report; write one of: {', '.join(words)}")


def place_of(wish: Wish, name: str) -> Path:
    """Return the file that is written.

    Raises:
        KnownError: There is no such folder, or the file has another ending.
    """
    out = wish.out or Path()
    safe = "".join(letter if letter.isalnum() or letter in "-_." else "-" for letter in name)
    path = out / safe if out.is_dir() else out
    if path.suffix.lower() != ".docx":
        raise KnownError(f"{path}: the report is a Word document; end its name in .docx")
    if not path.parent.is_dir():
        raise KnownError(f"{path.parent}: there is no such folder")
    return path
