"""What the laboratory's originals show, and what each method can and cannot tell."""

from collections.abc import Iterable

from workbench.analysis.laboratory.limits import limits_for
from workbench.records import ColourReading, LabResult, Source
from workbench.report.blocks import Block, Heading, Row, Table, headed
from workbench.report.draft import Draft, plain
from workbench.report.laboratory.colours import checks, colours
from workbench.report.laboratory.infrared import infrared
from workbench.report.laboratory.micrographs import microscopy, sections
from workbench.report.laboratory.thermal import thermal
from workbench.report.laboratory.xray import elements
from workbench.report.text import See

_Read = LabResult | ColourReading
_KINDS = (infrared, thermal, sections, elements, colours, checks)


def examinations(draft: Draft) -> list[Block]:
    """Return figures and tables of what the originals show, and what each method can tell."""
    found = draft.results.laboratory
    blocks: list[Block] = []
    if found is not None:
        blocks += [block for kind in _KINDS for block in kind(draft, found)]
        blocks += _unread(found.problems)
    blocks += microscopy(draft, found)
    return [*blocks, *_limits(draft)]


def _unread(problems: Iterable[str]) -> list[Block]:
    told = list(dict.fromkeys(problems))
    if not told:
        return []
    return [plain(f"Told while reading the laboratory's files: {'; '.join(told)}.")]


def _limits(draft: Draft) -> list[Block]:
    """Return the reach of the methods used."""
    held: list[_Read] = [*draft.dossier.all(LabResult), *draft.dossier.all(ColourReading)]
    used = limits_for(_method(one) for one in held)
    if not used:
        return []
    rows = tuple(
        Row((f"{one.title}\n({one.status})", " ".join(one.can),
             _cannot(one.cannot, one.detection)), _by(held, one.id))
        for one in used
    )  # fmt: skip
    columns = headed("Method, known from", "Can tell", "Cannot tell")
    caption = "What each method used can and cannot tell"
    return [
        Heading(2, "What the results can and cannot tell", "laboratory limits"),
        plain(
            "Each result is to be read with the reach of its method: ",
            See("table method limits"),
            ".",
        ),
        Table("method limits", caption, columns, rows),
    ]


def _cannot(sentences: Iterable[str], detection: str) -> str:
    found = f" Least found: {detection}." if detection else ""
    return " ".join(sentences) + found


def _method(one: _Read) -> str:
    return one.method if isinstance(one, LabResult) else "f-gloss-colour"


def _by(held: Iterable[_Read], method: str) -> tuple[Source, ...]:
    return tuple(one.source for one in held if _method(one) == method)
