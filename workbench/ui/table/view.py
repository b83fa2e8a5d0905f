"""The table of one record type: dense rows, columns as wide as their words, keys for all acts."""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QRect, Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from workbench.desk.questions.tables import TableColumn
from workbench.records import Record
from workbench.ui.table.delegate import CellDelegate
from workbench.ui.table.model import RecordModel
from workbench.ui.theme import step

_MEASURED = 60
"""Rows that the width of a column is measured on."""
_WIDEST = 30
"""Widest column in digits; longer text is cut off with a sign and stands whole in the form."""


class RecordView(QTableView):
    """Shows the rows and says which are chosen.

    Attributes:
        chosen: The person chose these records.
        opened: The person wants to work on this record.
    """

    chosen = Signal(tuple)
    opened = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        """Make the empty table of what `name` says."""
        super().__init__(parent)
        self._model = RecordModel(self)
        self._empty = ""
        self._following = False
        self.setModel(self._model)
        self.setItemDelegate(CellDelegate(self))
        self.setAccessibleName(name)
        self._dress()
        self.selectionModel().selectionChanged.connect(self._on_selection_changed)
        self.doubleClicked.connect(lambda index: self._open(index.row()))

    @property
    def records(self) -> RecordModel:
        """The rows."""
        return self._model

    def show_records(
        self, columns: Sequence[TableColumn], records: Sequence[Record], empty: str
    ) -> None:
        """Show `records`, keep what is chosen, and say `empty` where there is nothing."""
        kept = [record.id for record in self.chosen_records()]
        before = [c.heading for c in self._model.columns] if self._model.records else []
        fresh = [c.heading for c in columns] != before
        self._empty = empty
        self._following = True
        self._model.show_records(columns, records)
        self._following = False
        self.light(kept, scroll=False)
        if fresh:
            self._fit_columns()

    def chosen_records(self) -> tuple[Record, ...]:
        """Return the records whose rows are chosen, in the order shown."""
        rows = sorted(index.row() for index in self.selectionModel().selectedRows())
        found = (self._model.record_at(row) for row in rows)
        return tuple(record for record in found if record)

    def light(self, ids: Iterable[str], *, scroll: bool = True) -> None:
        """Choose the rows of the records with these ids, without telling anyone."""
        rows = sorted(row for key in ids if (row := self._model.row_of(key)) is not None)
        chosen = QItemSelection()
        for first, last in _runs(rows):
            right = self._model.columnCount() - 1
            chosen.select(self._model.index(first, 0), self._model.index(last, right))
        self._following = True
        flags = QItemSelectionModel.SelectionFlag
        self.selectionModel().select(chosen, flags.ClearAndSelect | flags.Rows)
        if rows:
            current = self._model.index(rows[0], max(0, self.currentIndex().column()))
            self.selectionModel().setCurrentIndex(current, flags.NoUpdate)
            if scroll:
                self.scrollTo(current)
        self._following = False

    def sizeHintForColumn(self, column: int) -> int:
        """Return the width of the widest of the first cells, within reason."""
        metrics, records = self.fontMetrics(), self._model.records[:_MEASURED]
        told = self._model.columns[column]
        widest = max((metrics.horizontalAdvance(told.text(one)) for one in records), default=0)
        heading = metrics.horizontalAdvance(told.heading) + step(self)
        marker = 2 * step(self) if told.condition else 0
        limit = _WIDEST * metrics.horizontalAdvance("0")
        return min(max(widest + marker, heading), limit) + step(self, 2.5)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open with Return, copy with the usual keys, leave the rest to Qt."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self.currentIndex().row())
        elif event.matches(QKeySequence.StandardKey.Copy):
            QGuiApplication.clipboard().setText(self.as_text())
        else:
            super().keyPressEvent(event)

    def as_text(self) -> str:
        """Return the chosen rows as a spreadsheet takes them, with their headings."""
        columns = self._shown_columns()
        lines = ["\t".join(column.heading for column in columns)]
        lines += ["\t".join(c.text(one) for c in columns) for one in self.chosen_records()]
        return "\n".join(lines)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the rows, or what is to be said where there are none."""
        super().paintEvent(event)
        if self._model.rowCount() or not self._empty:
            return
        painter = QPainter(self.viewport())
        painter.setPen(self.palette().color(QPalette.ColorRole.PlaceholderText))
        margin = 3 * step(self)
        room = QRect(self.viewport().rect()).adjusted(margin, margin, -margin, -margin)
        flags = Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft | Qt.TextFlag.TextWordWrap
        painter.drawText(room, int(flags), self._empty)
        painter.end()

    def _dress(self) -> None:
        self.setShowGrid(False)
        self.setMinimumHeight(step(self, 16))
        self.setWordWrap(False)
        self.setSortingEnabled(True)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        rows, heads = self.verticalHeader(), self.horizontalHeader()
        rows.hide()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setMinimumSectionSize(1)
        rows.setDefaultSectionSize(step(self, 2.75))
        heads.setHighlightSections(False)
        heads.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        heads.setSortIndicatorClearable(True)
        heads.setMinimumSectionSize(step(self, 3))

    def _fit_columns(self) -> None:
        records = self._model.records
        for at, column in enumerate(self._model.columns):
            blank = at > 0 and bool(records) and column.is_blank(records)
            self.setColumnHidden(at, blank)
            if not blank:
                self.setColumnWidth(at, self.sizeHintForColumn(at))

    def _shown_columns(self) -> list[TableColumn]:
        columns = enumerate(self._model.columns)
        return [column for at, column in columns if not self.isColumnHidden(at)]

    def _open(self, row: int) -> None:
        if record := self._model.record_at(row):
            self.opened.emit(record)

    def _on_selection_changed(self) -> None:
        if not self._following:
            self.chosen.emit(self.chosen_records())


def _runs(rows: list[int]) -> list[tuple[int, int]]:
    """Return runs of neighbouring rows: a selection of few ranges is fast."""
    runs: list[tuple[int, int]] = []
    for row in rows:
        if runs and row == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], row)
        else:
            runs.append((row, row))
    return runs
