"""A plan from a picture: two points a known distance apart say how large everything is."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QImageReader, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.records import (
    KnownError,
    MarkShape,
    NotUnderstoodError,
    PhotoMark,
    Points,
    Quantity,
    SitePlan,
)
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, elided, label
from workbench.ui.photos.marking import MarkView
from workbench.ui.theme import step

_KINDS = "Pictures (*.png *.jpg *.jpeg *.tif *.tiff *.webp);;All files (*)"
_HOW = (
    "Choose the drawing or photograph. Then set two points a known distance apart: the first is "
    "where x and y are 0, the second lies to its right. Arrow keys move the cross, space sets it."
)


class NewPlanPage(Page):
    """Makes a site plan.

    Attributes:
        left: The plan is made, or was left.
    """

    left = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for a picture."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self.view = MarkView(self)
        self.length = QLineEdit(self)
        self._file = elided("quiet", self)
        self._said = label("", "quiet", self)
        self._path: Path | None = None
        self._size = (0, 0)
        self._points: tuple[tuple[float, float], ...] = ()
        self._save = button("Make the plan", self.save, self, main=True)
        self._lay_out()
        self.view.drawn.connect(self._on_drawn)
        self.length.textEdited.connect(lambda _text: self._show_state())

    def choose(self, path: Path) -> None:
        """Show the picture at `path`."""
        reader = QImageReader(str(path))
        image = reader.read()
        if image.isNull():
            self.bench.refused.emit(
                f"{path.name} is no picture that can be read; take a PNG or JPEG"
            )
            return
        self._path, self._size, self._points = path, (image.width(), image.height()), ()
        self._file.setText(path.name)
        self.view.show_picture(QPixmap.fromImage(image), self._size, ())
        self.view.choose_tool(MarkShape.SCALE)
        self.view.setFocus()
        self._show_state()

    def _ask_picture(self) -> None:
        self.ask.file(self, "Drawing or photograph of the site", _KINDS, self.choose)

    def save(self) -> None:
        """Keep the picture and make the plan, in one act."""
        from workbench.desk.acts import FileToKeep, TakeIn

        if self._path is None or len(self._points) != 2:
            return
        try:
            length = Quantity.read(self.length.text())
            (x0, y0), (x1, y1) = ((x * self._size[0], y * self._size[1]) for x, y in self._points)
            name = f"plan/{self._path.name}"
            plan = SitePlan(
                file=name, x0=_px(x0), y0=_px(y0), x1=_px(x1), y1=_px(y1),
                length=Quantity(length.text, length.unit or "m"), origin="drawn at the desk",
            )  # fmt: skip
        except (NotUnderstoodError, KnownError) as wrong:
            self.bench.refused.emit(f"The length: {wrong}")
            return
        act = TakeIn(source="a plan", added=(plan,), files=(FileToKeep(name, self._path),))
        if self.bench.do(act):
            self.bench.told.emit("The plan is made; outline areas and place locations on it.")
            self.left.emit()

    def _on_drawn(self, _shape: MarkShape, points: tuple[tuple[float, float], ...]) -> None:
        self._points = points
        shown = PhotoMark(ref="", photo="", shape=MarkShape.DIMENSION, points=Points(points))
        self.view.show_marks((shown,))
        self._said.setText("Both points are set. Write how far apart they are.")
        self.length.setFocus()
        self._show_state()

    def _show_state(self) -> None:
        ready = self._path is not None and len(self._points) == 2
        self._save.setEnabled(ready and bool(self.length.text().strip()))

    def _lay_out(self) -> None:
        self.length.setPlaceholderText("Distance, as 60 m")
        self.length.setAccessibleName("Distance between the two points")
        self.length.setMaximumWidth(step(self, 24))
        how = label(_HOW, "quiet", self)
        how.setWordWrap(True)
        row = QHBoxLayout()
        row.addWidget(
            button("Picture…", lambda: self.ask.file(self, "Plan", _KINDS, self.choose), self)
        )
        row.addWidget(self._file, 1)
        foot = QHBoxLayout()
        for widget in (self.length, self._save, button("Leave it", self.left.emit, self)):
            foot.addWidget(widget)
        foot.addWidget(self._said, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self, 2))
        whole.setSpacing(step(self))
        whole.addWidget(label("New plan from a picture", "title", self))
        whole.addWidget(how)
        whole.addLayout(row)
        whole.addWidget(self.view, 1)
        whole.addLayout(foot)
        self._show_state()


def _px(value: float) -> Quantity:
    return Quantity(f"{value:.0f}")
