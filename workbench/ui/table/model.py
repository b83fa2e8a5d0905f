"""The rows of one record type: a tuple that is replaced, never edited, and sorted in Python."""

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from workbench.desk.questions.tables import SortKey, TableColumn
from workbench.records import Record

Index = QModelIndex | QPersistentModelIndex
CONDITION = Qt.ItemDataRole.UserRole + 1
"""Role that gives the condition a cell names, for its marker."""

_ROLE = Qt.ItemDataRole
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class RecordModel(QAbstractTableModel):
    """Records and what the columns say of them."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._columns: tuple[TableColumn, ...] = ()
        self._records: tuple[Record, ...] = ()
        self._rows: dict[str, int] = {}
        self._sorted_by: tuple[str, bool] = ("", False)

    @property
    def columns(self) -> tuple[TableColumn, ...]:
        """The columns shown."""
        return self._columns

    @property
    def records(self) -> tuple[Record, ...]:
        """The records shown, in their order."""
        return self._records

    def show_records(self, columns: Sequence[TableColumn], records: Sequence[Record]) -> None:
        """Show `records` under `columns`, in the order that was asked for last."""
        self.beginResetModel()
        self._columns = tuple(columns)
        self._records = self._in_order(records)
        self._number_rows()
        self.endResetModel()

    def record_at(self, row: int) -> Record | None:
        """Return the record of a row, or None where there is none."""
        return self._records[row] if 0 <= row < len(self._records) else None

    def row_of(self, record_id: str) -> int | None:
        """Return the row of the record with an id, or None where it is not shown."""
        return self._rows.get(record_id)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of records."""
        return 0 if parent.isValid() else len(self._records)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of columns."""
        return 0 if parent.isValid() else len(self._columns)

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return what a cell says, how it stands, and the record behind it."""
        record = self.record_at(index.row())
        if record is None or not 0 <= index.column() < len(self._columns):
            return None
        column = self._columns[index.column()]
        if role in (_ROLE.DisplayRole, _ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            return column.text(record)
        if role == _ROLE.TextAlignmentRole:
            return _RIGHT if column.number else _LEFT
        if role == CONDITION:
            return column.text(record) if column.condition else None
        return record if role == _ROLE.UserRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _ROLE.DisplayRole
    ) -> object:
        """Return the heading of a column."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self._columns):
            return None
        column = self._columns[section]
        if role == _ROLE.DisplayRole:
            return column.heading
        if role == _ROLE.TextAlignmentRole:
            return _RIGHT if column.number else _LEFT
        return None

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort the tuple itself: a proxy would compare cell by cell."""
        if not 0 <= column < len(self._columns):
            return
        self._sorted_by = (
            self._columns[column].heading,
            order == Qt.SortOrder.DescendingOrder,
        )
        self.layoutAboutToBeChanged.emit()
        before = self.persistentIndexList()
        held = [self._records[index.row()].id for index in before]
        self._records = self._in_order(self._records)
        self._number_rows()
        after = [
            self.index(self._rows[key], index.column())
            for key, index in zip(held, before, strict=True)
        ]
        self.changePersistentIndexList(before, after)
        self.layoutChanged.emit()

    def _number_rows(self) -> None:
        self._rows = {record.id: row for row, record in enumerate(self._records)}

    def _in_order(self, records: Sequence[Record]) -> tuple[Record, ...]:
        heading, descending = self._sorted_by
        column = next((one for one in self._columns if one.heading == heading), None)
        if column is None:
            return tuple(records)
        keyed = [(column.key(record), record) for record in records]
        said = sorted((pair for pair in keyed if not pair[0][0]), key=_key, reverse=descending)
        blank = [pair for pair in keyed if pair[0][0]]
        return tuple(record for _, record in (*said, *blank))


def _key(pair: tuple[SortKey, Record]) -> SortKey:
    return pair[0]
