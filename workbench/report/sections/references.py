"""References: the methods followed and the documents relied on."""

from workbench.reasoning import load_knowledge
from workbench.records import Document, Grade, LabResult, Measurement, PullOff, Rating
from workbench.records.codes import DocumentStatus
from workbench.report.blocks import Block, Paragraph, Row, Section, Table, Voice, headed
from workbench.report.draft import Draft, plain
from workbench.report.text import See, text
from workbench.trade.register import NOT_FROM_A_TEST, register

_RETAINED = frozenset((Grade.ESTABLISHED, Grade.PROBABLE, Grade.POSSIBLE))


def references(draft: Draft) -> Section:
    """Return the section on references."""
    blocks: list[Block] = []
    standards = standards_used(draft)
    if standards:
        rows = tuple(Row((use, name)) for name, use in standards.items())
        columns = headed("Test", "Standards that describe it")
        note = (
            "That a standard describes a test does not say that it was followed: the edition "
            "followed is named with the result, where the record names one. Numbers are from "
            "memory unless the appendix on methods says that the scope was read."
        )
        blocks += [
            plain(See("table standards"), " names the tests used and what describes them."),
            Table("standards", "Tests used, and standards that describe them", columns, rows, note),
        ]
    received = [d for d in draft.dossier.all(Document) if d.status is DocumentStatus.RECEIVED]
    if received:
        blocks += [
            plain("The documents received are in ", See("table documents"), "."),
        ]
    blocks += _works(draft)
    if not blocks:
        blocks.append(Paragraph(text("Nothing is cited."), Voice.PLAIN))
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


def standards_used(draft: Draft) -> dict[str, str]:
    """Return the standards that tests of the case name, and for what."""
    found: dict[str, dict[str, None]] = {}
    for pull in draft.dossier.all(PullOff):
        found.setdefault(pull.method.value, {})["Pull-off"] = None
    for rating in draft.dossier.all(Rating):
        found.setdefault(rating.method.value, {})["Rating"] = None
    tests = register()
    methods = [one.method for one in draft.dossier.all(Measurement)]
    methods += [one.method for one in draft.dossier.all(LabResult)]
    for method in dict.fromkeys(methods):
        test = tests.get(method)
        if test and test.standard and method not in NOT_FROM_A_TEST:
            found.setdefault(test.standard, {})[test.name] = None
    return {name: ", ".join(uses) for name, uses in sorted(found.items())}
