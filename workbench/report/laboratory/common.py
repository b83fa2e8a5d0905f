"""What the parts of the laboratory section share."""

from collections.abc import Iterable

from workbench.analysis.laboratory.limits import MethodLimits, limits_for
from workbench.records import Face, Source
from workbench.report.blocks import Block, Row, Table
from workbench.report.blocks import Column as Head
from workbench.report.draft import Draft, plain
from workbench.trade.showing import TEMPERATURE

MOST_FIGURES = 6


def heads(*words: str, numeric: Iterable[str] = ()) -> tuple[Head, ...]:
    """Return the columns of a table; those named in `numeric` hold numbers."""
    figures = set(numeric)
    return tuple(Head(word, numeric=word in figures) for word in words)


def table(
    key: str, caption: str, columns: tuple[Head, ...], rows: Iterable[Row], note: str = "",
    *, traced: bool = False,
) -> list[Block]:  # fmt: skip
    """Return a table, or nothing where it has no row."""
    held = tuple(rows)
    return [Table(key, caption, columns, held, note, traced=traced)] if held else []


def of_sample(draft: Draft, sample: str, face: str) -> str:
    """Return sample and face, a plane in words."""
    read = Face.read(face) if face else None
    if read is None or read.plane is None:
        return ", ".join(part for part in (sample, face) if part)
    seen = f" (face of {read.side})" if read.side else ""
    return f"{sample}, {draft.plane(read.plane, draft.dossier.area_at(sample))}{seen}"


def celsius(draft: Draft, value: float) -> str:
    """Return a temperature as the report shows it."""
    return draft.show.value(TEMPERATURE, value)


def reach(*methods: str) -> list[Block]:
    """Return what results by these methods can and cannot tell, to stand beside them."""
    return [plain(_words(one)) for one in limits_for(methods)]


def _words(one: MethodLimits) -> str:
    found = f" Least found: {one.detection}." if one.detection else ""
    return (
        f"{one.title}. Can tell: {' '.join(one.can)} Cannot tell: {' '.join(one.cannot)}{found} "
        f"Known from: {one.status}."
    )


def unique(sources: Iterable[Source]) -> tuple[Source, ...]:
    """Return sources, each once, in their order."""
    return tuple(dict.fromkeys(sources))
