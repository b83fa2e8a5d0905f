"""Where a pull-off broke: shares set on the stack by clicking, by keys, until there are 100 %."""

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from workbench.desk.entering import left_over, planes_of_system, with_share
from workbench.records import Breaks, Coat, Dossier, NotUnderstoodError, Plane, PlaneKind
from workbench.ui.theme import quiet, scheme_of, step

_BY = 5.0
_ROW = 3.0


class BreakEditor(QWidget):
    """One row a plane; a click gives it what is left, a click on its bar sets the share.

    Keys: up and down choose a plane, digits write its share, + and − change it by 5, space gives
    it what is left, Delete takes it away.

    Attributes:
        changed: The shares are otherwise now, as the field book writes them.
    """

    changed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show no stack."""
        super().__init__(parent)
        self._planes: tuple[Plane, ...] = ()
        self._names: dict[Plane, str] = {}
        self._breaks: Breaks | None = None
        self._row = 0
        self._digits = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Shares of the break by plane")

    @property
    def breaks(self) -> Breaks | None:
        """The shares."""
        return self._breaks

    @property
    def planes(self) -> tuple[Plane, ...]:
        """The planes, from above."""
        return self._planes

    @property
    def current(self) -> Plane | None:
        """The plane that keys write the share of."""
        return self._planes[self._row] if self._planes else None

    def show_system(self, dossier: Dossier, system: tuple[Coat, ...]) -> None:
        """Show the planes of a system."""
        self._planes = planes_of_system(system)
        self._names = {
            plane: dossier.plane_name(plane, system).partition(", ")[2] for plane in self._planes
        }
        self._row = min(self._row, max(0, len(self._planes) - 1))
        self.updateGeometry()
        self.update()

    def show_text(self, text: str) -> None:
        """Show the shares that a text says; what cannot be read shows as none."""
        try:
            self._breaks = Breaks.read(text) if text.strip() else None
        except NotUnderstoodError:
            self._breaks = None
        self._describe()

    def sizeHint(self) -> QSize:
        """Return room for all planes and the sum."""
        return QSize(step(self, 34), step(self, _ROW * (len(self._planes) + 1.5)))

    def minimumSizeHint(self) -> QSize:
        """Return the same height, and a width that can be read."""
        return QSize(step(self, 26), self.sizeHint().height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose a plane and set its share."""
        key, text = event.key(), event.text()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._row = (self._row + (1 if key == Qt.Key.Key_Down else -1)) % len(self._planes)
            self._digits = ""
            self._describe()
        elif text.isdigit():
            self._digits = (self._digits + text)[-3:]
            self._set(self._row, float(self._digits))
        elif text in {"+", "-"}:
            self._set(self._row, self._share(self._row) + (_BY if text == "+" else -_BY))
        elif key == Qt.Key.Key_Space:
            self._give_rest(self._row)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._digits = ""
            self._set(self._row, 0)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Set the share that was clicked on the bar; a click on the name gives what is left."""
        row = int(event.position().y() // step(self, _ROW))
        if not 0 <= row < len(self._planes):
            return
        self._row, self._digits = row, ""
        bar = self._bar(row)
        if event.button() == Qt.MouseButton.RightButton:
            self._set(row, 0)
        elif event.position().x() < bar.left():
            self._give_rest(row)
        else:
            share = (event.position().x() - bar.left()) / max(1, bar.width()) * 100
            self._set(row, round(share / _BY) * _BY)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the planes, their bars, and the sum."""
        painter = QPainter(self)
        for row, plane in enumerate(self._planes):
            self._paint_row(painter, row, plane)
        if self._planes:
            self._paint_sum(painter)
        painter.end()

    def _paint_row(self, painter: QPainter, row: int, plane: Plane) -> None:
        scheme, bar = scheme_of(self), self._bar(row)
        room = QRect(0, row * step(self, _ROW), self.width(), step(self, _ROW))
        if row == self._row:
            painter.fillRect(room, QColor(scheme.wash))
            if self.hasFocus():
                painter.setPen(QColor(scheme.accent))
                painter.drawRect(room.adjusted(0, 0, -1, -1))
        painter.setFont(self.font())
        strong = plane.kind is PlaneKind.INTERFACE
        painter.setPen(QColor(scheme.ink if strong else scheme.quiet))
        flags = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        painter.drawText(room.adjusted(step(self), 0, 0, 0), flags, plane.code)
        words = room.adjusted(step(self, 5), 0, bar.left() - room.right() - step(self), 0)
        shown = painter.fontMetrics().elidedText(
            self._names[plane], Qt.TextElideMode.ElideRight, words.width()
        )
        painter.drawText(words, flags, shown)
        painter.setPen(QColor(scheme.rule))
        painter.drawRect(bar)
        share = self._share(row)
        if share:
            filled = QRect(bar.left(), bar.top(), round(bar.width() * share / 100), bar.height())
            painter.fillRect(filled.adjusted(1, 1, 0, 0), QColor(scheme.accent))
        painter.setPen(QColor(scheme.ink))
        number = room.adjusted(0, 0, -step(self), 0)
        right = int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)
        painter.drawText(number, right, f"{share:g} %" if share else "")

    def _paint_sum(self, painter: QPainter) -> None:
        scheme, rest = scheme_of(self), left_over(self._breaks)
        top = len(self._planes) * step(self, _ROW)
        room = QRect(step(self), top, self.width() - 2 * step(self), step(self, _ROW))
        whole = abs(rest) < 0.05
        said = "100 %: the whole face" if whole else f"{rest:g} % of the face is still to be given"
        painter.setFont(quiet(self.font()))
        painter.setPen(QColor(scheme.ink if whole else scheme.alarm))
        painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter), said)

    def _bar(self, row: int) -> QRect:
        height = step(self, 1.5)
        top = row * step(self, _ROW) + (step(self, _ROW) - height) // 2
        width = max(step(self, 8), self.width() // 4)
        return QRect(self.width() - width - step(self, 6), top, width, height)

    def _share(self, row: int) -> float:
        return self._breaks.of(self._planes[row]) if self._breaks else 0.0

    def _give_rest(self, row: int) -> None:
        self._set(row, self._share(row) + left_over(self._breaks))

    def _set(self, row: int, percent: float) -> None:
        self._breaks = with_share(self._breaks, self._planes[row], percent)
        self._describe()
        self.changed.emit(str(self._breaks) if self._breaks else "")

    def _describe(self) -> None:
        plane = self._planes[self._row] if self._planes else None
        share = self._share(self._row) if plane else 0
        self.setAccessibleDescription(f"{plane} {share:g} %, {left_over(self._breaks):g} % left")
        self.update()
