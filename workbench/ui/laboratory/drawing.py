"""A drawing of the laboratory on the screen: the report's own function, drawn at this size."""

import textwrap
from collections.abc import Callable

from matplotlib.backend_bases import PickEvent
from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg
from matplotlib.figure import Figure
from PySide6.QtCore import QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.figures.look import Look
from workbench.figures.marks import Marks
from workbench.ui.bench import Bench
from workbench.ui.theme import is_dark, step

Draw = Callable[[Figure, Look], Marks]


class Drawing(FigureCanvasQTAgg):
    """Owns one bare Figure; what is picked in it is lit everywhere."""

    def __init__(self, name: str, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the empty drawing of what `name` says."""
        super().__init__(Figure(layout="constrained"))  # type: ignore[no-untyped-call]
        self.setParent(parent)
        self.setAccessibleName(name)
        self.setMinimumHeight(step(self, 30))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._bench = bench
        self._draw: Draw | None = None
        self._marks = Marks()
        self._settled = QTimer(self)
        self._settled.setSingleShot(True)
        self._settled.setInterval(60)
        self._settled.timeout.connect(self._draw_again)
        self.mpl_connect("pick_event", self._on_pick)

    def show_drawing(self, draw: Draw | None, description: str = "") -> None:
        """Draw something, and say in words what it shows; None shows the words alone."""
        self._draw = draw
        self.setAccessibleDescription(description)
        self._draw_again()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew once the size has settled."""
        super().resizeEvent(event)  # type: ignore[no-untyped-call]
        self._settled.start()

    def _draw_again(self) -> None:
        if self.width() <= 1 or self.height() <= 1:
            return
        dark = is_dark(self._bench_side())
        look = Look(dark=dark, showing=self._bench.showing, text_pt=self._text_pt())
        if self._draw is None:
            look.begin(self.figure)
            self._marks = Marks()
            words = "\n".join(textwrap.wrap(self.accessibleDescription(), 60))
            self.figure.text(0.5, 0.5, words, ha="center", va="center", **look.words())
        else:
            self._marks = self._draw(self.figure, look)
        self.draw_idle()  # type: ignore[no-untyped-call]

    def _bench_side(self) -> QWidget:
        """Return what it stands on: a canvas of matplotlib has a palette of its own."""
        return self.parentWidget() or self

    def _text_pt(self) -> float:
        return max(7.0, float(self.fontInfo().pointSizeF()) * 0.9)

    def _on_pick(self, event: PickEvent) -> None:
        if picked := self._marks.picked(event.artist):
            self._bench.selection.light(picked)
