"""How one plane is painted beside the stack: its name, and below it what is known."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from workbench.desk.questions.layers import Known, PlaneLine
from workbench.records import Plane, PlaneKind
from workbench.records.codes import Condition
from workbench.ui.marks import condition_tone, paint_condition
from workbench.ui.theme import is_dark, quiet, scheme_of, step

Index = QModelIndex | QPersistentModelIndex
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


class PlaneDelegate(QStyledItemDelegate):
    """Paints the row of a plane to the right of the stack.

    Attributes:
        chosen: The plane that is looked at.
        lit: Codes of the planes that the lit records speak of.
    """

    def __init__(self, parent: QWidget) -> None:
        """Paint for `parent`."""
        super().__init__(parent)
        self.chosen: Plane | None = None
        self.lit: frozenset[str] = frozenset()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return two lines for a plane of which something is known, one for the others."""
        line, widget = index.data(Qt.ItemDataRole.UserRole), option.widget
        height = self.height_of(widget)
        if not (isinstance(line, PlaneLine) and line.known):
            height -= QFontMetrics(quiet(widget.font())).height()
        return QSize(step(widget, 20), height)

    def height_of(self, widget: QWidget) -> int:
        """Return the height of a plane of which something is known."""
        first, second = QFontMetrics(widget.font()), QFontMetrics(quiet(widget.font()))
        return first.height() + second.height() + step(widget, 0.5)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one plane."""
        line, widget = index.data(Qt.ItemDataRole.UserRole), option.widget
        if not isinstance(line, PlaneLine):
            return
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = QRect(option.rect).adjusted(stack_width(widget), 0, -step(widget, 0.5), 0)
        self._paint_ground(painter, room, line, widget, option)
        room.adjust(step(widget), step(widget, 0.25), 0, -step(widget, 0.25))
        title = QFontMetrics(widget.font()).height()
        self._paint_title(painter, room, line, widget)
        if line.known:
            _paint_known(painter, room.adjusted(0, title, 0, 0), line.known, widget)
        painter.restore()

    def _paint_ground(
        self,
        painter: QPainter,
        room: QRect,
        line: PlaneLine,
        widget: QWidget,
        option: QStyleOptionViewItem,
    ) -> None:
        scheme = scheme_of(widget)
        same = self.chosen is not None and _same(self.chosen, line.plane)
        if same:
            painter.fillRect(room, scheme.wash)
        if same or line.plane.code in self.lit:
            edge = QRect(room.left(), room.top(), step(widget, 0.375), room.height())
            painter.fillRect(edge, scheme.accent)
        current = option.state & option.state.State_HasFocus
        if current and widget.hasFocus():
            painter.setPen(scheme.accent)
            painter.drawRect(room.adjusted(0, 0, -1, -1))

    def _paint_title(
        self, painter: QPainter, room: QRect, line: PlaneLine, widget: QWidget
    ) -> None:
        scheme, font = scheme_of(widget), QFont(widget.font())
        between = line.plane.kind is PlaneKind.INTERFACE
        font.setWeight(QFont.Weight.Bold if line.worst or between else QFont.Weight.Medium)
        metrics = QFontMetrics(font)
        tone = condition_tone(Condition.FAILING, dark=is_dark(widget)) if line.worst else scheme.ink
        painter.setFont(font)
        painter.setPen(tone)
        code = "glue" if line.plane.in_glue else line.plane.code
        painter.drawText(room.left(), room.top() + metrics.ascent(), code)
        left = room.left() + max(metrics.horizontalAdvance(code), step(widget, 3)) + step(widget)
        name = "" if line.plane.in_glue else line.name
        font.setWeight(QFont.Weight.Bold if line.worst else QFont.Weight.Normal)
        painter.setFont(font)
        shown = QFontMetrics(font).elidedText(
            name, Qt.TextElideMode.ElideRight, room.right() - left
        )
        painter.setPen(tone if line.worst else (scheme.ink if between else scheme.quiet))
        painter.drawText(left, room.top() + metrics.ascent(), shown)


def stack_width(widget: QWidget) -> int:
    """Return the width that the drawn stack takes at the left."""
    return step(widget, 7)


def _same(one: Plane, other: Plane) -> bool:
    return one == other or (one.in_glue and other.in_glue)


def _strengths_fit(widget: QWidget, number: int) -> bool:
    """Return whether there is room for the strengths beside the counts of all conditions."""
    viewport = widget.viewport() if isinstance(widget, QAbstractScrollArea) else widget
    room = viewport.width() - stack_width(widget) - step(widget, 1.5)
    words = QFontMetrics(quiet(widget.font())).horizontalAdvance("88/88≥ 0.88")
    return number * (words + step(widget, 1.75)) <= room


def _paint_known(painter: QPainter, room: QRect, known: tuple[Known, ...], widget: QWidget) -> None:
    """Paint what each condition says: its marker, "14/20", and the strength if it has room."""
    scheme, font = scheme_of(widget), quiet(widget.font())
    metrics, strengths = QFontMetrics(font), _strengths_fit(widget, len(known))
    painter.setFont(font)
    width = room.width() // max(2, len(known))
    for at, one in enumerate(known):
        left, top = room.left() + at * width, room.top()
        middle = QPointF(left + step(widget, 0.5), top + metrics.height() / 2)
        paint_condition(painter, middle, step(widget, 0.75), one.condition, dark=is_dark(widget))
        painter.setPen(scheme.ink if one.broke else scheme.quiet)
        start = left + step(widget, 1.25)
        counted = QRect(start, top, metrics.horizontalAdvance("88/88"), metrics.height())
        painter.drawText(counted, _RIGHT, f"{one.broke}/{one.tested}")
        if strengths:
            rest = QRect(counted.right() + step(widget, 0.75), top, width, metrics.height())
            painter.drawText(rest, _LEFT, one.strength)
