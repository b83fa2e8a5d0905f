"""Colour and gloss: readings of instruments held against each other; pictures only indicate."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.laboratory.reach import Beside, Reach, wrapped
from workbench.ui.parts import bare_column
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.laboratory.colours import ColourChange
    from workbench.analysis.laboratory.found import Laboratory

_HEADINGS = ("ref", "on", "against", "ΔE00", "ΔE*ab", "ΔL*", "ΔC*", "gloss", "doubts")
_NONE = (
    "No reading names another one that it is held against. Enter them under Colour and gloss "
    "readings: L*, a*, b*, gloss and its angle, and under “against” the reading before it."
)
_HOW = (
    "ΔE00 is CIEDE2000 with all weights 1; ΔL* and ΔC* are the reading less the one it is held "
    "against. Gloss kept is told at the same angle only. What was read off a photograph is "
    "indicative and stands here as no measurement."
)


class ColoursPage(LaboratoryPage):
    """One line for each reading that is held against another."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self.list = LinesView("Colour and gloss held against each other", _HEADINGS, self)
        self.meaning = wrapped("", self)
        self.reach = Reach(self)
        self._lay_out()
        self.list.opened.connect(lambda _behind: self._on_chosen())
        self.list.clicked.connect(lambda _index: self._on_chosen())
        self.bench.selection.focused.connect(self.renew)

    @property
    def current(self) -> Source | None:
        """The reading that is chosen."""
        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Source) else None

    def enter(self) -> None:
        """Go to the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self, found: "Laboratory") -> None:
        """List what the focus takes."""
        focus, index, dossier = self.bench.selection.focus, self.bench.index, self.bench.dossier
        shown = [
            one
            for one in found.colours
            if any((r := dossier.resolve(s)) and index.takes(focus, r) for s in one.sources)
        ]
        whole = len(found.colours)
        self.count.setText(f"{whole}" if len(shown) == whole else f"{len(shown)} of {whole}")
        self.list.show_lines([_line(one) for one in shown], (6, 6, 7, 6, 6.5, 7, 7, 6))
        self.meaning.setText(_HOW if shown else _NONE)

    def _on_chosen(self) -> None:
        if source := self.current:
            self.bench.selection.light([source])

    def _lay_out(self) -> None:
        self.reach.show_methods(("f-gloss-colour",))
        sheet = QWidget(self)
        column = QVBoxLayout(sheet)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.list, 1)
        self.meaning.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        column.addWidget(self.meaning)
        whole = bare_column(self)
        whole.addLayout(self.head("Colour and gloss", self.count))
        whole.addWidget(self.wrong)
        whole.addWidget(Beside(sheet, self.reach, self), 1)


def _line(one: "ColourChange") -> Line:
    def number(value: float | None, sign: str = "") -> str:
        return "" if value is None else f"{value:{sign}.2f}".replace("-", "−")

    told = ["indicative only: read off a photograph"] if one.indicative else []
    kept = "" if one.gloss_percent is None else f"{one.gloss_percent:.0f} %"
    cells = (
        one.reading.ref, one.reading.at, one.against.ref,
        number(one.de00), number(one.de76), number(one.lightness, "+"), number(one.chroma, "+"),
        kept, "; ".join((*told, *one.doubts)),
    )  # fmt: skip
    return Line(cells, one.reading.source)
