"""The grid: typing begins at once, Tab goes on, Return goes down, names are offered."""

from PySide6.QtCore import (
    QAbstractItemModel,
    QModelIndex,
    QPersistentModelIndex,
    QStringListModel,
    Qt,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCompleter,
    QHeaderView,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from workbench.desk.entry import choices
from workbench.ui.bench import Bench
from workbench.ui.entry.model import EntryModel
from workbench.ui.theme import step

Index = QModelIndex | QPersistentModelIndex
_WIDE = {"breaks": 18, "readings": 16, "note": 20, "method": 15, "location": 10, "quantity": 15}


class _CellEdit(QStyledItemDelegate):
    """Edits one cell in a line that offers the words or names it may hold."""

    def __init__(self, bench: Bench, model: EntryModel, parent: QWidget) -> None:
        super().__init__(parent)
        self._bench, self._model = bench, model

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return a line with its completions."""
        line = QLineEdit(parent)
        info, kind = self._model.infos[index.column()], self._model.kind
        line.setAccessibleName(info.column.heading)
        offered = choices(kind, info, self._bench.dossier) if kind else ()
        if offered:
            completer = QCompleter(QStringListModel(list(offered), line), line)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            line.setCompleter(completer)
        return line

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Write what stands in the line."""
        if isinstance(editor, QLineEdit):
            model.setData(index, editor.text())


class EntryGrid(QTableView):
    """Shows the rows that are being entered."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the empty grid."""
        super().__init__(parent)
        self.entries = EntryModel(self)
        self.setModel(self.entries)
        self.setItemDelegate(_CellEdit(bench, self.entries, self))
        self.setAccessibleName("Rows to enter")
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            triggers.AnyKeyPressed | triggers.DoubleClicked | triggers.EditKeyPressed
        )
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setFrameShape(QTableView.Shape.NoFrame)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(step(self, 3))
        self.horizontalHeader().setHighlightSections(False)

    def fit(self) -> None:
        """Give every column the width that its field needs."""
        for at, info in enumerate(self.entries.infos):
            self.setColumnWidth(at, step(self, _WIDE.get(info.name, 11)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go down with Return, clear a cell with Delete; the rest as in any grid."""
        index = self.currentIndex()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and index.isValid():
            self.setCurrentIndex(self.entries.index(index.row() + 1, 0))
        elif event.key() == Qt.Key.Key_Delete and index.isValid():
            self.entries.setData(index, "")
        else:
            super().keyPressEvent(event)
