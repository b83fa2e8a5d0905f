"""Plain lines under headings: problems, open points, acts, whatever is read and not edited."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from workbench.ui.theme import step

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole
_FEW = 400
"""Rows up to which each is as high as its words."""
_LAST = 12
"""Steps of the last column where it has no width of its own."""
_WORDS = 12
"""Steps from which a column holds words, and gives way where there is too little room."""
_NARROWEST, _WIDEST = 0.5, 1.5
"""Parts of their widths down to which such columns give way, and up to which they grow."""


@dataclass(frozen=True, slots=True)
class Line:
    """One row.

    Attributes:
        cells: What stands under each heading.
        behind: What the row stands for.
    """

    cells: tuple[str, ...]
    behind: object = None


class LinesModel(QAbstractTableModel):
    """The lines."""

    def __init__(self, headings: Sequence[str], parent: QObject | None = None) -> None:
        """Hold no lines under `headings`."""
        super().__init__(parent)
        self._headings = tuple(headings)
        self._lines: tuple[Line, ...] = ()

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines shown."""
        return self._lines

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show other lines."""
        self.beginResetModel()
        self._lines = tuple(lines)
        self.endResetModel()

    def line_at(self, row: int) -> Line | None:
        """Return the line of a row, or None where there is none."""
        return self._lines[row] if 0 <= row < len(self._lines) else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of lines."""
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of headings."""
        return 0 if parent.isValid() else len(self._headings)

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return what a cell says, or what its line stands for."""
        line = self.line_at(index.row())
        if line is None or not 0 <= index.column() < len(self._headings):
            return None
        if role in (_ROLE.DisplayRole, _ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            return line.cells[index.column()]
        return line.behind if role == _ROLE.UserRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _ROLE.DisplayRole
    ) -> object:
        """Return a heading."""
        if orientation == Qt.Orientation.Horizontal and role in (
            _ROLE.DisplayRole, _ROLE.ToolTipRole
        ):  # fmt: skip
            return self._headings[section] if 0 <= section < len(self._headings) else None
        if role == _ROLE.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return None


class _LineDelegate(QStyledItemDelegate):
    """Gives the words of a row some air."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the room of the words and a margin above and below."""
        inner = QStyleOptionViewItem(option)
        inner.rect = option.rect.adjusted(0, 0, -step(option.widget, 2), 0)
        return super().sizeHint(inner, index) + QSize(0, step(option.widget, 0.75))


class LinesView(QTableView):
    """Shows lines; Return or a click opens what a line stands for.

    Attributes:
        opened: The person wants what this line stands for.
    """

    opened = Signal(object)

    def __init__(self, name: str, headings: Sequence[str], parent: QWidget | None = None) -> None:
        """Make the empty view of what `name` says."""
        super().__init__(parent)
        self.lines = LinesModel(headings, self)
        self.setModel(self.lines)
        self.setAccessibleName(name)
        self.setShowGrid(False)
        self.setMinimumHeight(step(self, 12))
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setItemDelegate(_LineDelegate(self))
        self._widths: tuple[float, ...] = ()
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(1)
        self.verticalHeader().setDefaultSectionSize(step(self, 2.75))
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setTextElideMode(Qt.TextElideMode.ElideRight)
        self.horizontalHeader().setStretchLastSection(True)
        self.doubleClicked.connect(lambda index: self._open(index.row()))

    def show_lines(self, lines: Sequence[Line], widths: Sequence[float] = ()) -> None:
        """Show `lines`, columns `widths` steps wide; the last takes what is left.

        Where there is less room than that, the wide ones give way.
        """
        self.lines.show_lines(lines)
        self._widths = tuple(widths)
        self._fit_columns()
        fits = QHeaderView.ResizeMode.ResizeToContents
        few = len(lines) <= _FEW
        rows = self.verticalHeader()
        rows.setSectionResizeMode(fits if few else QHeaderView.ResizeMode.Fixed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the columns the room there is."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit_columns()

    def _fit_columns(self) -> None:
        """Set the widths; those with words give way, or take what room there is besides."""
        last = self.lines.columnCount() - 1
        widths = [*self._widths, *([_LAST] if len(self._widths) == last else [])]
        wide = sum(width for width in widths if width >= _WORDS)
        missing = sum(widths) - (self.viewport().width() - 1 - last) / step(self)
        share = min(max(_NARROWEST, 1 - missing / wide), _WIDEST) if wide else 1
        for at, width in enumerate(widths[:last]):
            self.setColumnWidth(at, step(self, width * share if width >= _WORDS else width))
        left = self.viewport().width() - sum(map(self.columnWidth, range(last)))
        least = step(self, widths[last] * _NARROWEST) if len(widths) > last else 0
        policy, fits = Qt.ScrollBarPolicy, left >= least
        self.horizontalHeader().setStretchLastSection(fits)
        self.setHorizontalScrollBarPolicy(
            policy.ScrollBarAlwaysOff if fits else policy.ScrollBarAsNeeded
        )
        if not fits:
            self.setColumnWidth(last, least)
        self.horizontalHeader().setMinimumSectionSize(step(self, 2.5))
        if self.lines.rowCount() <= _FEW:
            self.resizeRowsToContents()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open with Return, copy with the usual keys."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self.currentIndex().row())
        elif event.matches(QKeySequence.StandardKey.Copy):
            rows = sorted({index.row() for index in self.selectedIndexes()})
            said = ("\t".join(self.lines.lines[row].cells) for row in rows)
            QGuiApplication.clipboard().setText("\n".join(said))
        else:
            super().keyPressEvent(event)

    def _open(self, row: int) -> None:
        line = self.lines.line_at(row)
        if line is not None and line.behind is not None:
            self.opened.emit(line.behind)
