"""A plan from a picture: two points a known distance apart say how large everything is."""

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt, Signal
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
from workbench.ui.flow import Flow
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, elided, label, named
from workbench.ui.photos.marking import MarkView
from workbench.ui.theme import step

_KINDS = "Pictures (*.png *.jpg *.jpeg *.tif *.tiff *.webp);;All files (*)"
_HOW = (
    "Set two points a known distance apart: the first is where x and y are 0, the second lies to "
    "its right. Arrow keys move the cross, Shift farther, Ctrl by a little; space sets it. Or "
    "write their pixels, counted from the left and the top."
)
_AGAIN = "Areas and places keep their metres; the drawing moves beneath them."

Pixels = tuple[float, float]


class NewPlanPage(Page):
    """Makes a site plan, or calibrates one again.

    Attributes:
        left: The plan is made, or was left.
    """

    left = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for a picture."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self.view = MarkView(self)
        self.first = QLineEdit(self)
        self.second = QLineEdit(self)
        self.length = QLineEdit(self)
        self.level = QLineEdit(self)
        self._title = label("New plan from a picture", "title", self)
        self._file = elided("quiet", self)
        self._said = elided("quiet", self)
        self._path: Path | None = None
        self._size = (0, 0)
        self._plan: SitePlan | None = None
        self._choose = button("Picture…", self._ask_picture, self)
        self._save = button("Make the plan", self.save, self, main=True)
        self._lay_out()
        self.view.drawn.connect(self._on_drawn)
        for line in self._lines:
            line.textEdited.connect(lambda _text: self._show_state())

    def begin(self, file: str = "") -> None:
        """Begin a new plan, or show the plan in `file` as it is calibrated."""
        plan = self.bench.dossier.find(SitePlan, file) if file else None
        self._plan, self._path = None, None
        self._file.setText("")
        self.view.show_picture(QPixmap(), (0, 0), ())
        for line in self._lines:
            line.clear()
        path = self.bench.case.original(file) if plan else None
        if plan and path and self.choose(path):
            self._plan = plan
            self._file.setText(plan.file)
            self.first.setText(f"{plan.x0} {plan.y0}")
            self.second.setText(f"{plan.x1} {plan.y1}")
            self.length.setText(str(plan.length))
            self.level.setText(plan.level)
            self.view.choose_tool(None)
        self._title.setText("Calibrate the plan again" if self._plan else "New plan from a picture")
        self._save.setText("Keep the calibration" if self._plan else "Make the plan")
        self._choose.setVisible(self._plan is None)
        self._show_state()

    def choose(self, path: Path) -> bool:
        """Show the picture at `path`, and return whether it can be read."""
        reader = QImageReader(str(path))
        image = reader.read()
        if image.isNull():
            self.bench.refused.emit(
                f"{path.name} is no picture that can be read; take a PNG or JPEG"
            )
            return False
        self._path, self._size = path, (image.width(), image.height())
        self._file.setText(path.name)
        self.first.clear()
        self.second.clear()
        self.view.show_picture(QPixmap.fromImage(image), self._size, ())
        self.view.choose_tool(MarkShape.SCALE)
        self.view.setFocus()
        self._show_state()
        return True

    def enter(self) -> None:
        """Go to the picture, or to the button that asks for one."""
        target = self.view if self._path else self._choose
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def save(self) -> None:
        """Keep the picture and make the plan, or change the one that is calibrated, in one act."""
        from workbench.desk.acts import Change, FileToKeep, TakeIn

        if self._path is None:
            return
        try:
            plan = self._written(f"plan/{self._path.name}")
        except (NotUnderstoodError, KnownError) as wrong:
            self.bench.refused.emit(str(wrong))
            return
        if self._plan:
            done, told = self.bench.do(Change(plan, "calibrated again")), _AGAIN
        else:
            file = FileToKeep(plan.file, self._path)
            done = self.bench.do(TakeIn(source="a plan", added=(plan,), files=(file,)))
            told = "The plan is made; outline areas and place locations on it."
        if done:
            self.bench.told.emit(told)
            self.left.emit()

    def _written(self, name: str) -> SitePlan:
        """Return the plan that is written.

        Raises:
            NotUnderstoodError: A point or the length cannot be read.
            KnownError: The records cannot be so.
        """
        ends = _pixels(self.first.text(), "first"), _pixels(self.second.text(), "second")
        try:
            length = Quantity.read(self.length.text())
        except NotUnderstoodError as wrong:
            raise NotUnderstoodError(f"The length: {wrong.wrong}", wrong.right) from wrong
        (x0, y0), (x1, y1) = ends
        made = SitePlan(
            file=name, origin="drawn at the desk", x0=_px(x0), y0=_px(y0), x1=_px(x1), y1=_px(y1),
            length=Quantity(length.text, length.unit or "m"), level=self.level.text().strip(),
        )  # fmt: skip
        old = self._plan
        return replace(made, id=old.id, origin=old.origin, file=old.file) if old else made

    @property
    def _lines(self) -> tuple[QLineEdit, ...]:
        return self.first, self.second, self.length, self.level

    def _on_drawn(self, _shape: MarkShape, points: tuple[tuple[float, float], ...]) -> None:
        (x0, y0), (x1, y1) = ((x * self._size[0], y * self._size[1]) for x, y in points)
        self.first.setText(f"{x0:.0f} {y0:.0f}")
        self.second.setText(f"{x1:.0f} {y1:.0f}")
        self.length.setFocus()
        self._show_state()

    def _show_state(self) -> None:
        """Show the two points as they are written, and what is still to be said."""
        try:
            ends = _pixels(self.first.text(), "first"), _pixels(self.second.text(), "second")
        except NotUnderstoodError:
            ends = None
        if ends and self._path:
            points = Points(tuple((x / self._size[0], y / self._size[1]) for x, y in ends))
            shown = PhotoMark(ref="", photo="", shape=MarkShape.DIMENSION, points=points)
            self.view.show_marks((shown,))
        else:
            self.view.show_marks(())
        long = bool(self.length.text().strip())
        self._save.setEnabled(bool(self._path and ends and long))
        missing = "" if long else "Both points are set. Write how far apart they are."
        self._said.setText(missing if ends and self._path else "")

    def _ask_picture(self) -> None:
        self.ask.file(self, "Drawing or photograph of the site", _KINDS, self.choose)

    def _lay_out(self) -> None:
        how = label(_HOW, "quiet", self)
        how.setWordWrap(True)
        row = QHBoxLayout()
        row.addWidget(self._choose)
        row.addWidget(self._file, 1)
        written = Flow(step(self))
        for line, name, hint in (
            (self.first, "First point, px", "x y"),
            (self.second, "Second point, px", "x y"),
            (self.length, "Distance between them", "as 60 m"),
            (self.level, "Level or side", "blank: all"),
        ):
            line.setPlaceholderText(hint)
            line.setAccessibleName(name)
            line.setFixedWidth(step(self, 12))
            written.addWidget(named(name, line, self))
        foot = QHBoxLayout()
        for widget in (self._save, button("Leave it", self.left.emit, self)):
            foot.addWidget(widget)
        foot.addWidget(self._said, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self, 2))
        whole.setSpacing(step(self))
        whole.addWidget(self._title)
        whole.addWidget(how)
        whole.addLayout(row)
        whole.addWidget(self.view, 1)
        whole.addLayout(written)
        whole.addLayout(foot)
        self._show_state()


def _px(value: float) -> Quantity:
    return Quantity(f"{value:.0f}")


def _pixels(text: str, which: str) -> Pixels:
    """Return a point of the picture from "x y".

    Raises:
        NotUnderstoodError: It is not two numbers.
    """
    try:
        x, y = (float(word) for word in text.replace(",", " ").split())
    except ValueError as wrong:
        raise NotUnderstoodError(
            f"The {which} point “{text}” is not two numbers", "write x y in pixels, as 120 860"
        ) from wrong
    return x, y
