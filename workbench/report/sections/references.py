"""References: the methods followed and the documents relied on."""

from workbench.reasoning import load_knowledge
from workbench.records import Document, Grade, LabResult, Measurement, PullOff, Rating
from workbench.records.codes import DocumentStatus
from workbench.report.blocks import Block, Row, Section, Table, headed
from workbench.report.draft import Draft, plain
from workbench.report.text import See
from workbench.trade.methods import method
from workbench.trade.register import NOT_FROM_A_TEST, register

_RETAINED = frozenset((Grade.ESTABLISHED, Grade.PROBABLE, Grade.POSSIBLE))


def references(draft: Draft) -> Section:
    """Return the section on references."""
    blocks: list[Block] = []
    if tests_used(draft):
        blocks.append(
            plain(
                "The tests used and the standards that describe them are in ",
                See("table methods"),
                ". That a standard describes a test does not say that it was followed: the "
                "edition followed is named with the result, where the record names one.",
            )
        )
    received = [d for d in draft.dossier.all(Document) if d.status is DocumentStatus.RECEIVED]
    if received:
        blocks.append(
            plain("The documents received are in ", See("table documents"), ", each with its use.")
        )
    blocks += _works(draft)
    if not blocks:
        blocks.append(plain("Nothing is cited."))
    return Section("references", "References", tuple(blocks), short=False)


def _works(draft: Draft) -> list[Block]:
    """Return what the causes retained are known from, and how far each work was read."""
    reasoning = draft.results.reasoning
    knowledge = load_knowledge()
    retained = [one for one in reasoning.candidates if one.grade in _RETAINED] if reasoning else []
    held = [(one.title, knowledge.cause.get(one.cause)) for one in retained]
    rows = tuple(
        Row((title if at == 0 else "", words))
        for title, cause in held
        if cause
        for at, words in enumerate(knowledge.known_from(cause))
    )
    if not rows:
        return []
    return [
        plain(
            See("table works"),
            " names what the predictions of each cause retained are known from, and how far it "
            "was read.",
        ),
        Table("works", "What the causes retained are known from", headed("Cause", "Work"), rows),
    ]


def tests_used(draft: Draft) -> tuple[Row, ...]:
    """Return the tests of the case, with what describes each, how that is known, and what to keep.

    Pull-offs first, then ratings, then what else was read on site and in the laboratory.
    """
    pulls = dict.fromkeys(one.method.value for one in draft.dossier.all(PullOff))
    ratings = dict.fromkeys(one.method.value for one in draft.dossier.all(Rating))
    rows = [_row(_titled(name, "Pull-off"), name, "from memory", _PULLED) for name in pulls]
    rows += [_row(_titled(name, "Rating"), name, "from memory", "") for name in ratings]
    tests = register()
    by = [one.method for one in draft.dossier.all(Measurement)]
    by += [one.method for one in draft.dossier.all(LabResult)]
    for used in dict.fromkeys(by):
        test = tests.get(used)
        if test and used not in NOT_FROM_A_TEST:
            read = "scope read" if test.read else "from memory"
            rows.append(_row(test.name, test.standard, read, test.note))
    return tuple(rows)


_PULLED = (
    "nominal stress: load over the face of the fixture; cut, glue, rate and plane recorded for "
    "each test"
)


def _titled(code: str, name: str) -> str:
    """Return what a method is called; `name` where nothing is known of it."""
    known = method(code)
    return known.title if known else name


def _row(name: str, standard: str, known: str, note: str) -> Row:
    return Row((name, standard or "none known", known, note or "–"))
