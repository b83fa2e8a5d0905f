"""Microscopy and petrography: what was looked for, in a table, beside the picture of it."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.desk.questions.chapters import plural
from workbench.records import Microscopy, Source
from workbench.ui.bench import Bench
from workbench.ui.laboratory.reach import Beside, Reach
from workbench.ui.pages.records import RecordsPage
from workbench.ui.theme import step

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.figure import Figure

    from workbench.figures.look import Look
    from workbench.figures.marks import Marks
    from workbench.ui.laboratory.drawing import Drawing


class MicroscopyPage(RecordsPage):
    """The records and their form, and below the picture with all that was seen in it."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        self.drawing: Drawing | None = None
        self._seen: tuple[Microscopy, ...] = ()
        super().__init__(bench, Microscopy, parent)
        self.setAccessibleName(plural(Microscopy))
        self._room = self._add_picture()
        bench.selection.lit.connect(self._show_picture)

    def fill(self) -> None:
        """Show the records, and the picture of the one that is chosen."""
        super().fill()
        self._show_picture()

    def _show_picture(self) -> None:
        """Show the picture of the record that is lit, else the first picture there is."""
        if not self.isVisible():
            return
        held = [one for one in self.bench.dossier.all(Microscopy) if one.file]
        lit = set(self.bench.selection.sources)
        chosen = next((one for one in held if one.source in lit), held[0] if held else None)
        same = [one for one in held if chosen and one.file == chosen.file]
        self._seen = tuple(same)
        self._draw()

    def _draw(self) -> None:
        from workbench.ui.laboratory.drawing import Drawing

        if self.drawing is None:
            self.drawing = Drawing("Picture with what was seen in it", self.bench, self)
            self._room.addWidget(self.drawing)
        path = self.bench.case.original(self._seen[0].file) if self._seen else None
        if path is None:
            self.drawing.show_drawing(None, "no picture")
            return
        showing = self.bench.showing
        said = tuple(
            (f"{one.ref}, {one.feature}", _found(showing.outcome(one.found), one), one.source)
            for one in self._seen
        )
        title = f"{self._seen[0].sample}, {self._seen[0].file}"
        words = "; ".join(f"{what}: {found}" for what, found, _ in said)
        self.drawing.show_drawing(partial(_draw_observed, path, said, title), words)

    def _add_picture(self) -> QVBoxLayout:
        """Put picture and reach below the table and the form; return the picture's room."""
        reach = Reach(self)
        reach.show_methods(("l-stereo", "l-section", "l-petro"))
        place = QWidget(self)
        room = QVBoxLayout(place)
        room.setContentsMargins(0, 0, 0, 0)
        beside = Beside(place, reach, self)
        beside.setMinimumHeight(step(self, 22))
        whole = self.layout()
        if isinstance(whole, QVBoxLayout):
            whole.addWidget(beside, 2)
        return room


def _found(words: str, one: Microscopy) -> str:
    return "; ".join(part for part in (words, one.where, one.note) if part)


def _draw_observed(
    path: "Path",
    said: tuple[tuple[str, str, Source], ...],
    title: str,
    figure: "Figure",
    look: "Look",
) -> "Marks":
    from workbench.desk.laboratory.pictures import pixels_of
    from workbench.figures.marks import Marks
    from workbench.figures.observed import draw_observed

    try:
        pixels = pixels_of(path)
    except (ValueError, OSError) as wrong:
        look.begin(figure)
        figure.text(0.5, 0.5, str(wrong), ha="center", **look.words())
        return Marks()
    return draw_observed(figure, pixels, said, title=title, look=look)
