"""What the parts of the laboratory section share."""

from collections.abc import Callable, Iterable, Sequence

from matplotlib.figure import Figure as Drawing

from workbench.records import Face, Photo, Sample, Source
from workbench.report.blocks import Block, Figure, Heading, Paragraph, Row, Table
from workbench.report.blocks import Column as Head
from workbench.report.draft import Draft, plain
from workbench.report.text import See, Words, see_all
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
    return [Heading(2, words, key), _lead(cited), *blocks]


_TOLD = {
    "table spectra": ("holds each spectrum against a known one", ""),
    "figure spectra": ("draws the spectra", ""),
    "table assignments": ("has what the analyst took the bands for", ""),
    "figure thermograms": ("lays the curves one above another", ""),
    "table glass": ("has the glass transitions, each by a named definition", ""),
    "table two": ("sets the second heat beside the first", ""),
    "figure thermogram": ("shows how one was constructed", "show how they were constructed"),
    "table peaks": ("has the energy of the peaks and the degree of cure", ""),
    "figure peak": ("draws the peak that stands out", "draw the peaks that stand out"),
    "table estimates": ("has estimates by rule", ""),
    "figure section": ("shows a section with its layers", "show the sections with their layers"),
    "table section": ("has the thickness of each layer", ""),
    "figure elements": ("draws the shares by face", ""),
    "table element": ("adds the shares up", "set the shares against the control and add them up"),
    "figure xrays": ("draws the spectra", ""),
    "table xray": ("lists their peaks", ""),
    "table colours": ("holds each reading of colour against another", ""),
    "table checks": ("holds what the instruments read against what is known", ""),
    "table microscopy": ("has what was looked for, and whether it was found", ""),
    "figure observed": ("shows the picture of it", "show the pictures of it"),
}
"""What tables and figures of the laboratory tell, by the first words of their keys."""


def _lead(cited: Sequence[str]) -> Paragraph:
    """Return a sentence that leads to every table and figure and says what it tells."""
    alike: dict[str, list[str]] = {}
    for one in cited:
        alike.setdefault(" ".join(one.split()[:2]), []).append(one)
    parts: list[str | Words | See] = []
    for kind, some in alike.items():
        single, plural = _TOLD[kind]
        told = single if len(some) == 1 else plural
        parts += ["; " if parts else "", *see_all(some), f" {told}"]
    return plain(*parts, ".")


def of_sample(draft: Draft, sample: str, face: str) -> str:
    """Return sample and face, planes and layers in words."""
    held = draft.dossier.find(Sample, sample)
    area = draft.dossier.area_of(held) if held else draft.dossier.area_at(sample)
    words = draft.face_words(Face.read(face), area) if face else ""
    return ", ".join(filter(None, (sample, words)))


def original(draft: Draft, file: str) -> str:
    """Return what an original is called: the ref of its photograph, else the name of its file."""
    held = next((one for one in draft.dossier.all(Photo) if one.file == file), None)
    return held.ref if held and held.ref else file


def drawn(draw: Callable[[Drawing], object]) -> Callable[[Drawing], object]:
    """Return what draws as `draw` does, with room made for labels."""

    def fitted(drawing: Drawing) -> object:
        drawing.set_layout_engine("constrained")
        return draw(drawing)

    return fitted


def celsius(draft: Draft, value: float) -> str:
    """Return a temperature as the report shows it."""
    return draft.show.value(TEMPERATURE, value)


def unique(sources: Iterable[Source]) -> tuple[Source, ...]:
    """Return sources, each once, in their order."""
    return tuple(dict.fromkeys(sources))
