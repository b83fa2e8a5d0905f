"""What keeps a report from being sent: statements without a source, words that say too much.

Each point is a value with a place and a remedy; nothing is changed by a check.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from workbench.records import LabResult, Opinion, Party
from workbench.records.codes import Role
from workbench.report.blocks import (
    Block,
    Paragraph,
    Plates,
    Section,
    Table,
    Voice,
)
from workbench.report.draft import Draft
from workbench.report.numbers import numbers_of
from workbench.report.profiles import left_open, open_items, profile
from workbench.report.sections.opinions import basis_of
from workbench.report.standing import standing
from workbench.report.text import See, Text, Value, plain, sources_of


@dataclass(frozen=True, slots=True)
class Point:
    """Something to be settled before a report is sent.

    Attributes:
        section: Key of the section; empty for the report as a whole.
        place: Which paragraph, table or record.
        wrong: What is wrong.
        right: What would settle it.
        hinders: Whether the report cannot be issued while it stands.
    """

    section: str
    place: str
    wrong: str
    right: str
    hinders: bool = False

    def __str__(self) -> str:
        """Return the point as one sentence."""
        where = ", ".join(filter(None, (self.section, self.place)))
        return f"{where or 'report'}: {self.wrong}; {self.right}"


_CERTAIN = re.compile(
    r"\b(proves?|proven|certainly|undoubtedly|beyond (?:any |all )?doubt|conclusively|"
    r"100 ?% (?:certain|sure)|zero error|reasonable degree of (?:scientific|engineering) certainty)"
    r"\b",
    re.IGNORECASE,
)
_CLAIMED = re.compile(
    r"\b(compl(?:y|ies|iant|iance) with|conforms? to|"
    r"meets (?:the requirements of )?(?:ISO|ASTM|EN)|tamper-?proof|authentic|guaranteed)\b",
    re.IGNORECASE,
)
_OPINED = re.compile(
    r"\b(in (?:my|our) (?:opinion|view)|(?:I|we) believe|probably|most likely|was caused by|"
    r"the cause (?:is|was))\b",
    re.IGNORECASE,
)
_OF_THE_CASE_FILE = frozenset(
    ("standards", "methods", "heads", "journal", "originals", "amendments", "next tests",
     "strength", "rules", "works")
)  # fmt: skip
"""Tables that speak of the program, the case file or the report itself, not of single records."""


def open_points(draft: Draft, sections: Sequence[Section]) -> tuple[Point, ...]:
    """Return everything that should be settled before the report is sent."""
    checks: tuple[Callable[[Draft, Sequence[Section]], Iterable[Point]], ...] = (
        _untraced, _gone, _words, _references, _stale, _questions, _opinions, _front, _laboratory,
        _profile, _evidence,
    )  # fmt: skip
    return tuple(point for check in checks for point in check(draft, sections))


def _blocks(sections: Sequence[Section]) -> Iterator[tuple[Section, Block]]:
    return ((section, block) for section in sections for block in section.blocks)


def _untraced(_draft: Draft, sections: Sequence[Section]) -> Iterator[Point]:
    right = "name the record that it rests on, or refer to the table that has it"
    for section, block in _blocks(sections):
        if isinstance(block, Paragraph) and block.name and not _traced(block):
            words = plain(block.text)[:60]
            yield Point(section.key, block.name, f"“{words}…” names no source", right)
        if isinstance(block, Table) and not _of_itself(block):
            for number, row in enumerate(block.rows, 1):
                if not row.sources and not any(sources_of(cell) for cell in row.cells):
                    place = f"table “{block.caption}”, row {number}"
                    yield Point(section.key, place, "the row names no record", right)


def _gone(draft: Draft, sections: Sequence[Section]) -> Iterator[Point]:
    """Yield the paragraphs that rest on a record that is not there, or not any more."""
    for section, block in _blocks(sections):
        if not (isinstance(block, Paragraph) and block.name):
            continue
        for source in dict.fromkeys((*block.sources, *sources_of(block.text))):
            record = draft.dossier.resolve(source)
            if record is None or record.withdrawn:
                how = "was withdrawn" if record else "is not in the case"
                yield Point(section.key, block.name, f"it rests on {source.label}, which {how}",
                            "name another record, or say it otherwise")  # fmt: skip


def _of_itself(block: Table) -> bool:
    return not {block.key, block.key.partition(" ")[0]}.isdisjoint(_OF_THE_CASE_FILE)


def _traced(block: Paragraph) -> bool:
    if block.sources or sources_of(block.text) or block.voice is Voice.PLAIN:
        return True
    return any(isinstance(piece, See) for piece in block.text)


def _words(_draft: Draft, sections: Sequence[Section]) -> Iterator[Point]:
    for section, block in _blocks(sections):
        if not isinstance(block, Paragraph):
            continue
        said = plain(block.text)
        place = block.name or said[:40]
        if found := _CERTAIN.search(said):
            yield Point(section.key, place, f"“{found[0]}” claims more than a method can give",
                        "say how firmly, in the words of the grades")  # fmt: skip
        if found := _CLAIMED.search(said):
            yield Point(section.key, place, f"“{found[0]}” is a claim the report must not make",
                        "say what was found beside what was required")  # fmt: skip
        found = _OPINED.search(said) if block.voice is Voice.FACT else None
        if found:
            yield Point(section.key, place, f"“{found[0]}” is an opinion among facts",
                        "move it to the opinions, or say only what was found")  # fmt: skip


def _references(_draft: Draft, sections: Sequence[Section]) -> Iterator[Point]:
    targets = numbers_of(sections).targets
    for section, block in _blocks(sections):
        for whole in _texts(block):
            for piece in whole:
                if isinstance(piece, See) and piece.key not in targets:
                    yield Point(section.key, "", f"a reference to “{piece.key}” leads nowhere",
                                "refer to a part that the report has", hinders=True)  # fmt: skip
                if isinstance(piece, Value) and not piece.shown:
                    yield Point(section.key, "", f"there is no number “{piece.name}”",
                                "name one that the records have", hinders=True)  # fmt: skip


def _texts(block: Block) -> tuple[Text, ...]:
    if isinstance(block, Paragraph):
        return (block.text,)
    if isinstance(block, Table):
        return tuple(cell for row in block.rows for cell in row.cells if not isinstance(cell, str))
    return ()


def _stale(_draft: Draft, sections: Sequence[Section]) -> Iterator[Point]:
    for section, block in _blocks(sections):
        if isinstance(block, Paragraph) and block.stale:
            right = "read it again and keep or change it"
            yield Point(section.key, block.name, block.stale, right, hinders=True)
        if isinstance(block, Plates):
            for plate in block.plates:
                if plate.caption.startswith("No caption"):
                    wrong = "a photograph without a caption"
                    yield Point(section.key, plate.ref, wrong, "say what it shows")


def _questions(draft: Draft, _sections: Sequence[Section]) -> Iterator[Point]:
    held = draft.dossier.all(Opinion)
    questions = draft.dossier.questions
    if not questions:
        yield Point("questions", "", "no question is recorded", "record what was asked")
    for number, question in enumerate(questions, 1):
        if not any(one.is_on(number, question) for one in held):
            yield Point("opinions", f"question {number}", "no opinion answers it",
                        "record one, or that none can be given")  # fmt: skip
    for one in held:
        if not any(one.is_on(n, q) for n, q in enumerate(questions, 1)):
            yield Point("opinions", one.ref, "it answers no question that was put",
                        "name the question by its number")  # fmt: skip


def _opinions(draft: Draft, _sections: Sequence[Section]) -> Iterator[Point]:
    for one in draft.dossier.all(Opinion):
        if not one.written:
            yield Point("opinions", one.ref, "it is not written to the end",
                        "write the answer, or that none can be given", hinders=True)  # fmt: skip
        elif not one.signed:
            yield Point("opinions", one.ref, "it is drafted and unsigned",
                        "read it, make it your own words, sign it", hinders=True)  # fmt: skip
        gaps = (
            ("basis", basis_of(one), "name the records that it rests on", True),
            ("grade", one.grade, "choose one of the grades", False),
            ("evidence against", one.against, "name it, or write “none found”", False),
            ("limits", one.limits, "say what it is subject to, or “none”", False),
            ("range of opinion", one.range_of_opinion, "say it, or “no range known”", False),
        )
        for what, said, right, hinders in gaps:
            if not said:
                yield Point("opinions", one.ref, f"nothing is said of its {what}", right, hinders)
        for source in basis_of(one):
            if draft.dossier.resolve(source) is None:
                yield Point("opinions", one.ref, f"its basis “{source}” is no record",
                            "name one that the case has", hinders=True)  # fmt: skip


def _front(draft: Draft, _sections: Sequence[Section]) -> Iterator[Point]:
    entries = (("title", "say what kind of matter it is"), ("reference", "give the case a number"),
               ("client", "say who gave the instruction"))  # fmt: skip
    for key, right in entries:
        if not draft.dossier.entry(key):
            yield Point("", key, f"the case has no {key}", right, hinders=True)
    practice = [p for p in draft.dossier.all(Party) if p.role is Role.INVESTIGATOR]
    if not any(one.contact for one in practice):
        yield Point("", "practice", "no investigator with a name and address is recorded",
                    "record name and address among the parties", hinders=True)  # fmt: skip


def _laboratory(draft: Draft, _sections: Sequence[Section]) -> Iterator[Point]:
    for one in draft.dossier.all(LabResult):
        if not one.deviation:
            yield Point("laboratory", one.ref, "nothing is said of deviations from the method",
                        "write what deviated, or “none”", hinders=True)  # fmt: skip
        if one.method == "not_stated":
            yield Point("laboratory", one.ref, "its method is not stated",
                        "name the method with its edition")  # fmt: skip


def _profile(draft: Draft, _sections: Sequence[Section]) -> Iterator[Point]:
    if not draft.setup.profile:
        return
    wanted = profile(draft.setup.profile)
    for item in open_items(draft, wanted):
        if left_open(draft, item):
            continue
        wrong = f"“{wanted.title}” asks for it and nothing settles it ({item.source})"
        right = "record it, state it under this item, or write why the report does without it"
        yield Point("author", item.key, wrong, right, hinders=item.hinders)


def _evidence(draft: Draft, _sections: Sequence[Section]) -> Iterator[Point]:
    """Yield what touches the evidence itself, for which no reason is written."""
    for one in standing(draft):
        if one.reason is None:
            right = f"{one.remedy}, or write why the report leaves it open"
            yield Point("evidence", f"“{one.key}”", one.words, right, hinders=True)
