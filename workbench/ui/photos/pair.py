"""Two photographs side by side: what fails beside what holds."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.desk.marking import marks_of
from workbench.desk.photographs import title_of
from workbench.records import Photo
from workbench.records.codes import Condition
from workbench.ui.bench import Bench
from workbench.ui.parts import bare_column, elided, label, tool
from workbench.ui.photos.large import read_picture
from workbench.ui.photos.marking import MarkView
from workbench.ui.theme import step


class Pair(QWidget):
    """Failing at the left, non-failing at the right; each side is leafed through by itself.

    Attributes:
        left: The person wants to go back.
    """

    left = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self.sides = (_Side(bench, self), _Side(bench, self))
        self._bench = bench
        head = QHBoxLayout()
        head.setSpacing(step(self))
        head.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        head.addWidget(tool("‹ Photographs", "Back to all photographs", self.left.emit, self))
        head.addWidget(label("Side by side", "heading", self))
        head.addStretch()
        both = QHBoxLayout()
        both.setSpacing(1)
        for side in self.sides:
            both.addWidget(side, 1)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addLayout(both, 1)

    def show_pair(self, chosen: tuple[Photo, ...], everything: tuple[Photo, ...]) -> None:
        """Show the two that are chosen, else the failing and the non-failing ones."""
        if len(chosen) == 2:
            self.sides[0].show_photos((chosen[0],))
            self.sides[1].show_photos((chosen[1],))
        else:
            dossier = self._bench.dossier
            for side, condition in zip(
                self.sides, (Condition.FAILING, Condition.NON_FAILING), strict=True
            ):
                side.show_photos(
                    tuple(p for p in everything if p.at and dossier.condition_at(p.at) is condition)
                )
        self.sides[0].setFocus(Qt.FocusReason.OtherFocusReason)


class _Side(QWidget):
    """One of the two photographs."""

    def __init__(self, bench: Bench, parent: QWidget) -> None:
        super().__init__(parent)
        self._bench = bench
        self._photos: tuple[Photo, ...] = ()
        self._at = 0
        self.title = elided("", self)
        self._view = MarkView(self)
        row = QHBoxLayout()
        row.setSpacing(step(self))
        row.setContentsMargins(step(self), 0, step(self), step(self, 0.5))
        row.addWidget(tool("‹", "The one before", lambda: self.leaf(-1), self))
        row.addWidget(tool("›", "The next one", lambda: self.leaf(1), self))
        row.addWidget(self.title, 1)
        whole = bare_column(self)
        whole.addLayout(row)
        whole.addWidget(self._view, 1)

    def show_photos(self, photos: tuple[Photo, ...]) -> None:
        """Leaf through these photographs, from the first."""
        self._photos, self._at = photos, 0
        self.leaf(0)

    def leaf(self, by: int) -> None:
        """Show the photograph `by` places further."""
        if not self._photos:
            self.title.setText("No photograph of this condition")
            return
        self._at = (self._at + by) % len(self._photos)
        photo = self._photos[self._at]
        condition = self._bench.dossier.condition_at(photo.at)
        place = f"{photo.at} {condition}" if photo.at else "no place"
        self.title.setText(f"{title_of(photo)} · {place} · {photo.caption}")
        picture, size = read_picture(self._bench, photo)
        self._view.show_picture(picture, size, marks_of(self._bench.dossier, photo))
