"""Questions put to laboratories, and what was sent back."""

from workbench.analysis.laboratory.asked import answers_to
from workbench.records import Document, LabRequest
from workbench.records.codes import YesNo
from workbench.report.blocks import Block, Column, Row, Table
from workbench.report.draft import Draft, plain
from workbench.report.refs import in_short
from workbench.report.tabling import said_once
from workbench.report.text import See
from workbench.report.wording import method_title


def requests(draft: Draft) -> list[Block]:
    """Return the questions put to laboratories, one row for each sample and method."""
    held = draft.dossier.all(LabRequest)
    if not held:
        return []
    rows = tuple(_row(draft, one) for one in held)
    words = (
        "Ref", "Sample, control, blank", "Question", "Method, edition, conditions", "Done by",
        "Deviation", "Answered by",
    )  # fmt: skip
    how = plain(
        See("table laboratory requests"),
        " has the questions put, sample by sample. The laboratory was told which sample is the "
        "control, and not what is expected. Each question is answered by the results on that "
        "sample by that method, and by the files that came with them.",
    )
    caption = "Questions put to the laboratory"
    columns = tuple(map(Column, words))
    return [how, said_once(Table("laboratory requests", caption, columns, rows, turns=True))]


def _row(draft: Draft, one: LabRequest) -> Row:
    beside = [
        f"{word} {ref}" for word, ref in (("control", one.control), ("blank", one.blank)) if ref
    ]
    how = [method_title(one.method).partition(":")[0], one.edition or "edition not recorded"]
    answers = answers_to(draft.dossier, one)
    told = [one.source, *(answer.source for answer in answers)]
    refs = in_short(told[1:], most=4) or "no result recorded"
    sent = f"; {', '.join(dict.fromkeys(_paper(draft, name) for name in one.files))}"
    cells = (
        one.ref,
        "\n".join((one.sample, *beside)),
        one.question,
        "\n".join((*how, one.conditions or "conditions not recorded")),
        _who(one),
        one.deviation or "not recorded",
        f"{refs}{sent if one.files else ''}",
    )
    return Row(cells, tuple(told))


def _paper(draft: Draft, file: str) -> str:
    """Return the ref of the document that a file is, else the file's name."""
    held = next((one for one in draft.dossier.all(Document) if one.file == file), None)
    return held.ref if held and held.ref else file


def _who(one: LabRequest) -> str:
    where = {YesNo.YES: " (own)", YesNo.NO: " (outside)", None: ""}[one.own]
    under = f"under {one.supervision}" if one.supervision else "supervision not recorded"
    said = (f"{one.laboratory}{where}", one.analyst or "analyst not recorded", under)
    return ", ".join(part for part in said if part)
