"""What the parts of the laboratory section share."""

from collections.abc import Callable, Iterable, Sequence

from matplotlib.figure import Figure as Drawing

from workbench.analysis.laboratory.limits import MethodLimits, limits_for
from workbench.records import Face, Sample, Source
from workbench.report.blocks import Block, Figure, Heading, Row, Table
from workbench.report.blocks import Column as Head
from workbench.report.draft import Draft, plain
from workbench.report.text import see_all
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


def headed(words: str, key: str, blocks: Sequence[Block]) -> list[Block]:
    """Return blocks under their heading, every table and figure among them cited first."""
    cited = [
        f"{'table' if isinstance(one, Table) else 'figure'} {one.key}"
        for one in blocks
        if isinstance(one, Table | Figure)
    ]
    if not cited:
        return [Heading(2, words, key), *blocks]
    verb = "has" if len(cited) == 1 else "have"
    lead = plain(*see_all(cited), f" {verb} what was found.")
    return [Heading(2, words, key), lead, *blocks]


def of_sample(draft: Draft, sample: str, face: str) -> str:
    """Return sample and face, planes and layers in words."""
    held = draft.dossier.find(Sample, sample)
    area = draft.dossier.area_of(held) if held else draft.dossier.area_at(sample)
    words = draft.face_words(Face.read(face), area) if face else ""
    return ", ".join(filter(None, (sample, words)))


def drawn(draw: Callable[[Drawing], object]) -> Callable[[Drawing], object]:
    """Return what draws as `draw` does, with room made for labels."""

    def fitted(drawing: Drawing) -> object:
        drawing.set_layout_engine("constrained")
        return draw(drawing)

    return fitted


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
        f"{_known(one.status)}."
    )


def _known(status: str) -> str:
    return f"Known {status}" if status.startswith("from ") else f"Known from: {status}"


def unique(sources: Iterable[Source]) -> tuple[Source, ...]:
    """Return sources, each once, in their order."""
    return tuple(dict.fromkeys(sources))
