"""A figure on the screen: drawn by the same function as in the report, and picked from."""

from matplotlib.backend_bases import PickEvent
from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg
from matplotlib.figure import Figure
from PySide6.QtCore import QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from workbench.figures.marks import Marks
from workbench.ui.bench import Bench
from workbench.ui.figures.catalogue import FigureChoice, Scene

_PAPER_TEXT_PT = 8.5
"""Size of text for which the heights of figures are given."""


class FigureCanvas(FigureCanvasQTAgg):
    """Owns one bare Figure."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make an empty canvas that lights on `bench` what is picked."""
        super().__init__(Figure())  # type: ignore[no-untyped-call]
        self.setParent(parent)
        self._bench = bench
        self._marks = Marks()
        self._shown: tuple[FigureChoice, Scene] | None = None
        self._resized = QTimer(self)
        self._resized.setSingleShot(True)
        self._resized.setInterval(60)
        self._resized.timeout.connect(self._draw_again)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.mpl_connect("pick_event", self._on_pick)

    def show_figure(self, choice: FigureChoice, scene: Scene) -> None:
        """Draw `choice` from `scene`."""
        self._shown = (choice, scene)
        inches = choice.height_mm(scene) / 25.4 * scene.look.text_pt / _PAPER_TEXT_PT
        self.setMinimumHeight(round(inches * self.logicalDpiY()))
        self.setAccessibleName(f"Figure: {choice.title}")
        self._draw_again()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew once the size has settled: some figures are laid out by their size."""
        super().resizeEvent(event)  # type: ignore[no-untyped-call]
        if self._shown:
            self._resized.start()

    def _draw_again(self) -> None:
        if self._shown and self.width() > 1 and self.height() > 1:
            choice, scene = self._shown
            self._marks = choice.draw(self.figure, scene)
            self.draw_idle()  # type: ignore[no-untyped-call]

    def _on_pick(self, event: PickEvent) -> None:
        points = getattr(event, "ind", (0,))
        picked = self._marks.picked(event.artist, (int(at) for at in points))
        if picked:
            self._bench.selection.light(picked)
        elif mark := self._marks.of_artist(event.artist):
            if mark.area:
                self._bench.selection.show_places({mark.area})
            elif mark.plane:
                self._bench.selection.show_plane(mark.plane)
