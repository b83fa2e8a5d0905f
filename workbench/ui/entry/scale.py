"""The scale of a rating beside the grid: a click on a step gives it."""

from typing import TYPE_CHECKING

from matplotlib.backend_bases import PickEvent
from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg
from matplotlib.figure import Figure
from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from workbench.figures.look import Look
from workbench.figures.scales import draw_scale
from workbench.trade.methods import method
from workbench.ui.theme import is_dark, step

if TYPE_CHECKING:
    from workbench.figures.scales import RatingMark

_ROW = 5.5
"""Height of one step of a scale, in steps of the grid."""


class ScaleSketch(FigureCanvasQTAgg):
    """Draws the steps of a method, the best first.

    Attributes:
        chosen: The person chose this rating.
    """

    chosen = Signal(float)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show no scale."""
        super().__init__(Figure())  # type: ignore[no-untyped-call]
        self.setParent(parent)
        self._code = ""
        self._value: float | None = None
        self._marks: tuple[RatingMark, ...] = ()
        self.setAccessibleName("Scale of the rating")
        self.mpl_connect("pick_event", self._on_pick)

    def show_scale(self, code: str, value: float | None) -> None:
        """Show the scale of a method and the rating that was given."""
        if (code, value) == (self._code, self._value):
            return
        self._code, self._value = code, value
        found = method(code)
        steps = found.scale.steps if found and found.scale else ()
        self.setAccessibleDescription("; ".join(f"{at:g}: {words}" for at, words in steps))
        self.setMinimumHeight(step(self, _ROW * max(1, len(steps)) + 3))
        self._draw()

    def sizeHint(self) -> QSize:
        """Return room for every step."""
        return QSize(step(self, 34), self.minimumHeight())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew: the sketches keep their shape."""
        super().resizeEvent(event)  # type: ignore[no-untyped-call]
        self._draw()

    def _draw(self) -> None:
        if self._code and self.width() > 1:
            look = Look(dark=is_dark(self), text_pt=self.fontInfo().pointSizeF() * 0.85)
            self._marks = draw_scale(self.figure, self._code, look=look, chosen=self._value)
            self.draw_idle()  # type: ignore[no-untyped-call]

    def _on_pick(self, event: PickEvent) -> None:
        for mark in self._marks:
            if mark.artist is event.artist:
                self.chosen.emit(mark.rating)
