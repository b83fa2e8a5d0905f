"""The chapters at the left: all seven, and the pages of the one that is open."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from workbench.records.codes import Chapter
from workbench.ui.theme import quiet, scheme_of, step

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole
_FLAGS = Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of the list: a chapter, or a page of it.

    Attributes:
        chapter: The chapter.
        page: Key of the page; empty for the chapter itself.
        title: What stands there.
        count: How many records the page has; None where it does not count.
    """

    chapter: Chapter
    page: str = ""
    title: str = ""
    count: int | None = None


class ChapterModel(QAbstractListModel):
    """The rows of the list."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._entries: tuple[Entry, ...] = ()

    def show_entries(self, entries: Sequence[Entry]) -> None:
        """Show other rows, or other counts in the same rows."""
        fresh = tuple(entries)
        before = [(one.chapter, one.page) for one in self._entries]
        if before == [(one.chapter, one.page) for one in fresh]:
            self._entries = fresh
            if fresh:
                self.dataChanged.emit(self.index(0), self.index(len(fresh) - 1))
            return
        self.beginResetModel()
        self._entries = fresh
        self.endResetModel()

    def entry_at(self, row: int) -> Entry | None:
        """Return the entry of a row, or None where there is none."""
        return self._entries[row] if 0 <= row < len(self._entries) else None

    def row_of(self, page: str) -> int | None:
        """Return the row of a page, or None where its chapter is closed."""
        rows = (row for row, entry in enumerate(self._entries) if entry.page == page)
        return next(rows, None)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._entries)

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return the title, what is heard of it, or the entry."""
        entry = self.entry_at(index.row())
        if entry is None:
            return None
        if role == _ROLE.DisplayRole:
            return entry.title
        if role == _ROLE.ToolTipRole:
            return entry.title if entry.page else None
        if role == _ROLE.AccessibleTextRole:
            return entry.title if entry.count is None else f"{entry.title}, {entry.count}"
        return entry if role == _ROLE.UserRole else None


class _EntryDelegate(QStyledItemDelegate):
    """Paints chapters large, pages small with their counts at the right."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the height of a chapter or of a page."""
        entry = index.data(_ROLE.UserRole)
        page = isinstance(entry, Entry) and entry.page
        return QSize(step(option.widget, 18), step(option.widget, 2.75 if page else 4))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one row."""
        entry, widget = index.data(_ROLE.UserRole), option.widget
        if not isinstance(entry, Entry) or not isinstance(widget, ChapterList):
            return
        scheme, unit = scheme_of(widget), step(widget)
        here = bool(entry.page) and entry.page == widget.page
        room = QRect(option.rect)
        painter.save()
        if here:
            painter.fillRect(room, QColor(scheme.wash))
        if here or (not entry.page and entry.chapter is widget.chapter):
            edge = QRect(room.left(), room.top(), step(widget, 0.375), room.height())
            painter.fillRect(edge, QColor(scheme.accent))
        if option.state & option.state.State_HasFocus and widget.hasFocus():
            painter.setPen(QColor(scheme.accent))
            painter.drawRect(room.adjusted(0, 0, -1, -1))
        font = quiet(widget.font(), 0.95) if entry.page else QFont(widget.font())
        if not entry.page:
            font.setWeight(QFont.Weight.DemiBold)
        painter.setFont(font)
        painter.setPen(QColor(scheme.ink))
        words = room.adjusted(2 * unit if not entry.page else 3 * unit, 0, -unit, 0)
        count = str(entry.count) if entry.count else ""
        taken = painter.fontMetrics().horizontalAdvance(count) + unit if count else 0
        shown = painter.fontMetrics().elidedText(
            entry.title, Qt.TextElideMode.ElideRight, words.width() - taken
        )
        painter.drawText(words, int(_FLAGS | Qt.AlignmentFlag.AlignLeft), shown)
        painter.setPen(QColor(scheme.quiet))
        painter.drawText(words, int(_FLAGS | Qt.AlignmentFlag.AlignRight), count)
        painter.restore()


class ChapterList(QListView):
    """The list; a chapter opens to its pages.

    Attributes:
        opened: The person chose this entry.
        page: Key of the page that is shown.
        chapter: The chapter that is open.
    """

    opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make the empty list."""
        super().__init__(parent)
        self.page = ""
        self.chapter: Chapter | None = None
        self.entries = ChapterModel(self)
        self.setModel(self.entries)
        self.setItemDelegate(_EntryDelegate(self))
        self.setAccessibleName("Chapters")
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setProperty("panel", "band")
        self.clicked.connect(self._on_clicked)
        self.activated.connect(self._on_clicked)

    def mark(self, chapter: Chapter | None, page: str) -> None:
        """Mark the page that is shown."""
        self.chapter, self.page = chapter, page
        row = self.entries.row_of(page)
        if row is not None:
            self.setCurrentIndex(self.entries.index(row))
        self.viewport().update()

    def _on_clicked(self, index: QModelIndex) -> None:
        if entry := self.entries.entry_at(index.row()):
            self.opened.emit(entry)
