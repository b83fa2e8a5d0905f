"""The two headings of the matrix: candidates with their grades, observations under stages."""

from PySide6.QtCore import QModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen
from PySide6.QtWidgets import QHeaderView, QTableView, QWidget

from workbench.reasoning.results import Graded, Ungraded
from workbench.records import Grade
from workbench.ui.causes.model import MatrixModel
from workbench.ui.theme import quiet, scheme_of, step

_MIDDLE = Qt.AlignmentFlag.AlignVCenter
_BARS = 4


class CandidateHeads(QHeaderView):
    """Titles of candidates, upright, over four bars that say how firmly each is held."""

    def __init__(self, cells: MatrixModel, parent: QWidget) -> None:
        """Head the columns of `cells`."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._cells = cells
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(1)
        self.setDefaultSectionSize(step(parent, 2.75))
        self.setSectionsClickable(True)

    def sizeHint(self) -> QSize:
        """Return room for upright titles, less where the rows would be left none."""
        view = self.parentWidget()
        room = step(self, 24) if view is None else min(step(self, 24), view.height() // 2)
        return QSize(super().sizeHint().width(), max(room, step(self, 8)))

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803
        """Paint one title from below upwards, and the bars of its grade below it."""
        candidate = self._cells.candidate_at(logicalIndex)
        if candidate is None:
            return
        scheme = scheme_of(self)
        here = _current(self).column() == logicalIndex
        firm = candidate.grade in (Grade.ESTABLISHED, Grade.PROBABLE)
        painter.save()
        painter.fillRect(rect, QColor(scheme.wash if here else scheme.band))
        foot = step(self, 2)
        _paint_grade(
            painter, QRect(rect.left(), rect.bottom() - foot, rect.width(), foot),
            candidate.grade, QColor(scheme.ink if firm else scheme.quiet),
        )  # fmt: skip
        font = QFont(quiet(self.font()))
        font.setBold(firm)
        font.setStrikeOut(candidate.grade is Grade.EXCLUDED)
        painter.setFont(font)
        painter.setPen(QColor(scheme.ink if firm or here else scheme.quiet))
        painter.translate(rect.left(), rect.bottom() - foot)
        painter.rotate(-90)
        room = QRect(0, 0, rect.height() - foot - step(self, 0.5), rect.width())
        title = f"{candidate.place}  {candidate.title}"
        shown = painter.fontMetrics().elidedText(title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, int(_MIDDLE), shown)
        painter.restore()


def _paint_grade(painter: QPainter, room: QRect, grade: Graded, tone: QColor) -> None:
    """Paint as many full bars as the grade is firm, of four; ✕ if excluded, ○ not examined."""
    if grade is Grade.EXCLUDED or isinstance(grade, Ungraded):
        painter.setPen(tone)
        sign = "✕" if grade is Grade.EXCLUDED else "○"
        painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), sign)
        return
    width, gap = max(2, room.width() // 9), max(1, room.width() // 18)
    left = room.left() + (room.width() - _BARS * width - (_BARS - 1) * gap) // 2
    painter.setPen(QPen(tone, 1))
    for at in range(_BARS):
        bar = QRect(left + at * (width + gap), room.top() + 3, width, room.height() - 8)
        if at < grade.firmness:
            painter.fillRect(bar, tone)
        else:
            painter.fillRect(QRect(bar.left(), bar.bottom() - 1, width, 2), tone)


class ObservationHeads(QHeaderView):
    """What was observed, stage after stage; what nobody has read stands quiet and aslant."""

    def __init__(self, cells: MatrixModel, parent: QWidget) -> None:
        """Head the rows of `cells`."""
        super().__init__(Qt.Orientation.Vertical, parent)
        self._cells = cells
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(1)
        self.setDefaultSectionSize(step(parent, 2.5))
        self.setSectionsClickable(True)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803
        """Paint an observation, or the name of a stage."""
        scheme = scheme_of(self)
        row, stage = self._cells.row_at(logicalIndex), self._cells.stage_at(logicalIndex)
        here = _current(self).row() == logicalIndex
        painter.save()
        painter.fillRect(rect, QColor(scheme.wash if here else scheme.band))
        font, room = QFont(self.font()), rect.adjusted(step(self, 2), 0, -step(self, 0.5), 0)
        if stage:
            font.setBold(True)
            painter.setPen(QColor(scheme.rule))
            painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        elif row:
            font.setItalic(not row.finding.known)
        painter.setFont(font)
        plain = bool(stage) or here or bool(row and row.finding.known)
        painter.setPen(QColor(scheme.ink if plain else scheme.quiet))
        words = stage or (f"{'✎ ' if row.finding.override else ''}{row.label}" if row else "")
        shown = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, int(_MIDDLE | Qt.AlignmentFlag.AlignLeft), shown)
        painter.restore()


def _current(head: QHeaderView) -> QModelIndex:
    view = head.parentWidget()
    return view.currentIndex() if isinstance(view, QTableView) else QModelIndex()
