"""Label sheets drawn to scale into a PDF."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.collections import PatchCollection
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from workbench.exchange.labels.stock import Stock
from workbench.exchange.labels.symbols import (
    CODE_128_QUIET,
    QR_QUIET,
    code_128_modules,
    payload_of,
    qr_modules,
    snapped_module_mm,
)
from workbench.records import Dossier, Sample, SampleCare

_MM = 1 / 25.4
_POINT_MM = 25.4 / 72
_QR_MODULE_MM = 0.4
_BAR_MODULE_MM = 0.25
_PAD_MM = 2.0
_INK = "#22262B"


@dataclass(frozen=True, slots=True)
class LabelWords:
    """What stands on one label.

    Attributes:
        ref: The sample's ref, large.
        lines: What follows, the most important first; lines that do not fit are left out from
            the end.
        hazards: In words, printed bold; empty where none is known.
    """

    ref: str
    lines: tuple[str, ...]
    hazards: str = ""


def label_words(dossier: Dossier, sample: Sample) -> LabelWords:
    """Return what the label of `sample` says: case, kind, place, date, collector, hazards."""
    care = dossier.find(SampleCare, sample.ref)
    place = dossier.area_at(sample.at)
    said = (
        dossier.entry("reference"),
        " ".join(part for part in (sample.kind.value.replace("_", " "), sample.purpose) if part),
        " · ".join(part for part in (sample.at, place.name if place else "") if part),
        f"taken {sample.taken}" if sample.taken else "",
        sample.taken_by,
        f"seal {sample.seal}" if sample.seal else "",
        f"part of {sample.parent}" if sample.parent else "",
    )
    return LabelWords(
        sample.ref, tuple(line for line in said if line), care.hazards if care else ""
    )


def write_labels(
    path: Path,
    words: Sequence[LabelWords],
    stock: Stock,
    *,
    first_place: int = 0,
    offset_mm: tuple[float, float] = (0.0, 0.0),
    dots_per_inch: int = 300,
    outlines: bool = False,
) -> None:
    """Write a PDF of labels on `stock`, at true size: print it at 100 percent.

    Args:
        path: Where to.
        words: One label each.
        stock: The sheet or roll.
        first_place: The first unused place of the first sheet, from 0.
        offset_mm: How far the printer is off, right and down.
        dots_per_inch: Of the printer; module widths are whole numbers of its dots.
        outlines: Draw the edges of the labels, for a test page on plain paper.

    Raises:
        ValueError: There is nothing to print, or the first place is not on the sheet.
    """
    if not words:
        raise ValueError("no labels to print")
    stock.corner(first_place)
    places = list(range(first_place, first_place + len(words)))
    with PdfPages(path, metadata={"Title": "Sample labels", "CreationDate": None}) as pages:
        for page in range(places[-1] // stock.on_a_page + 1):
            figure = Figure(figsize=(stock.page[0] * _MM, stock.page[1] * _MM))
            axes = figure.add_axes((0, 0, 1, 1))
            axes.set(xlim=(0, stock.page[0]), ylim=(stock.page[1], 0))
            axes.axis("off")
            for word, place in zip(words, places, strict=True):
                if place // stock.on_a_page == page:
                    left, top = stock.corner(place % stock.on_a_page)
                    corner = (left + offset_mm[0], top + offset_mm[1])
                    _Label(axes, corner, stock.label, dots_per_inch).draw(word, outlines=outlines)
            pages.savefig(figure)


class _Label:
    """One label while it is drawn; lengths in millimetres from the page's left top."""

    def __init__(
        self, axes: Axes, corner: tuple[float, float], size: tuple[float, float], dpi: int
    ) -> None:
        self._axes = axes
        self._left, self._top = corner
        self._width, self._height = size
        self._dpi = dpi

    def draw(self, words: LabelWords, *, outlines: bool) -> None:
        if outlines:
            edge = Rectangle((self._left, self._top), self._width, self._height)
            edge.set(fill=False, edgecolor="#999999", linewidth=0.4)
            self._axes.add_patch(edge)
        payload = payload_of(words.ref)
        text_left = self._left + self._qr(payload)
        bars = self._bars(payload, text_left)
        self._text(words, text_left, self._height - bars)

    def _qr(self, payload: str) -> float:
        """Draw the QR symbol at the left; return how far it reaches, quiet zone included."""
        modules = qr_modules(payload)
        room = (self._height - 2) / (len(modules) + 2 * QR_QUIET)
        size = snapped_module_mm(min(_QR_MODULE_MM, room), self._dpi)
        whole = size * (len(modules) + 2 * QR_QUIET)
        left, top = self._left + 0.5 + QR_QUIET * size, self._top + 1 + QR_QUIET * size
        self._squares(
            [
                (left + column * size, top + row * size, size, size)
                for row, line in enumerate(modules)
                for column, dark in enumerate(line)
                if dark
            ]
        )
        return whole + 0.5

    def _bars(self, payload: str, left: float) -> float:
        """Draw Code 128 along the bottom where it fits; return the height it takes."""
        modules = code_128_modules(payload)
        size = snapped_module_mm(_BAR_MODULE_MM, self._dpi)
        room = self._left + self._width - left - 1
        height = 7.0
        if (len(modules) + 2 * CODE_128_QUIET) * size > room or self._height < 30:
            return _PAD_MM
        start = left + CODE_128_QUIET * size
        top = self._top + self._height - height - _PAD_MM
        self._squares(
            [(start + n * size, top, size, height) for n, dark in enumerate(modules) if dark]
        )
        return height + 2 * _PAD_MM

    def _squares(self, corners: list[tuple[float, float, float, float]]) -> None:
        patches = [Rectangle((x, y), width, height) for x, y, width, height in corners]
        dark = PatchCollection(patches, facecolor="black", edgecolor="none", linewidth=0)
        dark.set_antialiased(False)
        self._axes.add_collection(dark)

    def _text(self, words: LabelWords, left: float, height: float) -> None:
        room = self._left + self._width - left - 1.5
        down = self._top + _PAD_MM
        said = [(words.ref, 11.0, "bold")]
        if words.hazards:
            said.append((f"Hazard: {words.hazards}", 6.5, "bold"))
        said += [(line, 6.5, "normal") for line in words.lines]
        for line, points, weight in said:
            step = points * _POINT_MM * 1.25
            if down + step > self._top + height:
                break
            fitted = _fitted(line, points, room)
            self._axes.text(
                left, down, fitted, fontsize=points, weight=weight, va="top", color=_INK,
                family="DejaVu Sans", parse_math=False,
            )  # fmt: skip
            down += step


def _fitted(line: str, points: float, room_mm: float) -> str:
    """Return `line`, cut with an ellipsis where it is wider than `room_mm`."""
    most = max(3, int(room_mm / (points * _POINT_MM * 0.62)))
    return line if len(line) <= most else line[: most - 1] + "…"
