"""Elements by face: failing beside sound beside control, with overlaps and ratios."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QTabWidget, QVBoxLayout, QWidget

from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.laboratory.reach import Reach, wrapped
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from workbench.analysis.laboratory.elements import ElementRatio, FaceElements
    from workbench.analysis.laboratory.found import Laboratory
    from workbench.figures.look import Look
    from workbench.figures.marks import Marks
    from workbench.ui.laboratory.drawing import Drawing


class ElementsPage(LaboratoryPage):
    """Bars by face, ratios to the control, and which elements may be taken for each other."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self._faces: tuple[FaceElements, ...] = ()
        headings = ("element", "face", "%", "control", "%", "times more")
        self.ratios = LinesView("Ratios to the control", headings, self)
        self.warnings = wrapped("", self)
        self.reach = Reach(self)
        self.drawing: Drawing | None = None
        self._lay_out()
        self.ratios.clicked.connect(lambda _index: self._on_chosen())
        self.ratios.opened.connect(lambda _behind: self._on_chosen())
        self.bench.selection.focused.connect(self.renew)

    @property
    def current(self) -> Source | None:
        """The result that is chosen."""
        line = self.ratios.lines.line_at(self.ratios.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Source) else None

    def enter(self) -> None:
        """Go to the ratios."""
        self.ratios.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self, found: "Laboratory") -> None:
        """Show the faces that the focus takes."""
        focus, index, dossier = self.bench.selection.focus, self.bench.index, self.bench.dossier
        self._faces = tuple(
            one
            for one in found.elements.faces
            if any((r := dossier.resolve(s)) and index.takes(focus, r) for s in one.sources)
        )
        self.count.setText(f"{len(self._faces)} faces")
        shown = [one for one in found.elements.ratios if one.face in self._faces]
        self.ratios.show_lines([_line(one) for one in shown], (10, 20, 10, 20, 10))
        told = (
            *found.elements.warnings,
            "The table holds the elements reported, not all there are: no sum is formed of it.",
        )
        self.warnings.setText(" ".join(f"{one.rstrip('.')}." for one in told))
        self._draw()

    def _on_chosen(self) -> None:
        if source := self.current:
            self.bench.selection.light([source])

    def _draw(self) -> None:
        from workbench.ui.laboratory.drawing import Drawing

        if self.drawing is None:
            self.drawing = Drawing("Elements by face", self.bench, self)
            self._room.addWidget(self.drawing)
        if not self._faces:
            self.drawing.show_drawing(None)
            return
        faces = [
            (one.name, one.condition, one.shares, one.sources[0] if one.sources else None)
            for one in self._faces
        ]

        def draw(figure: "Figure", look: "Look") -> "Marks":
            from workbench.figures.elements import draw_elements

            return draw_elements(figure, faces, look=look)

        self.drawing.show_drawing(draw, "; ".join(name for name, _, _, _ in faces))

    def _lay_out(self) -> None:
        self.reach.show_methods(("l-sem-eds", "l-xps", "l-ic"))
        drawn = QWidget(self)
        self._room = QVBoxLayout(drawn)
        self._room.setContentsMargins(0, 0, 0, 0)
        self.warnings.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        sheet = QWidget(self)
        column = QVBoxLayout(sheet)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.ratios, 1)
        column.addWidget(self.warnings)
        tabs = QTabWidget(self)
        tabs.setDocumentMode(True)
        tabs.addTab(sheet, "Against the control")
        tabs.addTab(self.reach, "Can and cannot tell")
        halves = QSplitter(Qt.Orientation.Vertical, self)
        halves.setHandleWidth(1)
        halves.setChildrenCollapsible(False)
        halves.addWidget(drawn)
        halves.addWidget(tabs)
        halves.setSizes([step(self, 46), step(self, 36)])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(self.head("Elements"))
        whole.addWidget(self.wrong)
        whole.addWidget(halves, 1)


def _line(one: "ElementRatio") -> Line:
    ratio = "both below the limit" if one.ratio is None else f"{one.bound} {one.ratio:.2g}"
    cells = (
        one.element, one.face.name, _share(one.face, one.element), one.control.name,
        _share(one.control, one.element), ratio.removeprefix("= "),
    )  # fmt: skip
    at = list(one.face.shares).index(one.element)
    return Line(cells, one.face.sources[at])


def _share(face: "FaceElements", element: str) -> str:
    if element in face.below:
        return f"< {face.below[element]:g}"
    return f"{face.shares[element]:g}"
