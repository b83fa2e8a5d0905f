"""Rows that are being entered: texts first, records when they can be read."""

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor

from workbench.desk.entering import Texts, columns_of_entry, is_untouched, next_row
from workbench.desk.entry import Typed, read_record
from workbench.records import Dossier, FieldInfo, Record, fields_of

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole


class EntryModel(QAbstractTableModel):
    """The rows; there is always an untouched one at the end.

    Attributes:
        edited: What stands in the rows changed.
    """

    edited = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._kind: type[Record] | None = None
        self._infos: tuple[FieldInfo, ...] = ()
        self._dossier = Dossier()
        self._rows: list[Texts] = []
        self._typed: list[Typed] = []
        self.alarm = QColor("#A63A22")

    @property
    def kind(self) -> type[Record] | None:
        """The type that is entered."""
        return self._kind

    @property
    def infos(self) -> tuple[FieldInfo, ...]:
        """The fields that are entered."""
        return self._infos

    @property
    def rows(self) -> tuple[Texts, ...]:
        """What stands in the rows that were touched."""
        return tuple(dict(row) for row in self._rows if not is_untouched(row))

    @property
    def ready(self) -> tuple[Record, ...]:
        """The records that the rows say, of those that can be read."""
        pairs = zip(self._rows, self._typed, strict=True)
        return tuple(t.record for row, t in pairs if t.record and not is_untouched(row))

    @property
    def troubles(self) -> tuple[tuple[int, str, str], ...]:
        """Row, field and what is wrong, of the rows that were touched."""
        return tuple(
            (at, name, f"{fault.wrong}; {fault.right}")
            for at, typed in enumerate(self._typed)
            if not is_untouched(self._rows[at])
            for name, fault in typed.wrong.items()
        )

    def show_rows(self, kind: type[Record], dossier: Dossier, rows: Sequence[Texts]) -> None:
        """Enter records of `kind` into `dossier`, with the rows of a draft."""
        self.beginResetModel()
        named = {info.name: info for info in fields_of(kind)}
        self._kind, self._dossier = kind, dossier
        self._infos = tuple(named[name] for name in columns_of_entry(kind))
        self._rows = [dict(row) for row in rows]
        self._rows.append(next_row(kind, dossier, self._rows))
        self._typed = [self._read(row) for row in self._rows]
        self.endResetModel()

    def text(self, row: int, name: str) -> str:
        """Return what stands in a field."""
        return self._rows[row].get(name, "") if 0 <= row < len(self._rows) else ""

    def write(self, row: int, name: str, text: str) -> None:
        """Write into a field as if the person had."""
        names = [info.name for info in self._infos]
        if name in names:
            self.setData(self.index(row, names.index(name)), text)

    def drop_ready(self) -> None:
        """Leave only the rows that could not be read."""
        if self._kind is None:
            return
        pairs = zip(self._rows, self._typed, strict=True)
        left = [row for row, typed in pairs if typed.record is None and not is_untouched(row)]
        self.show_rows(self._kind, self._dossier, left)
        self.edited.emit()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of fields."""
        return 0 if parent.isValid() else len(self._infos)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let every cell be edited."""
        flags = super().flags(index)
        return flags | Qt.ItemFlag.ItemIsEditable if index.isValid() else flags

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return what stands in a cell, and what is wrong with it."""
        if not self.checkIndex(index, self.CheckIndexOption.IndexIsValid):
            return None
        row, info = self._rows[index.row()], self._infos[index.column()]
        if role in (_ROLE.DisplayRole, _ROLE.EditRole):
            return row.get(info.name, "")
        fault = None if is_untouched(row) else self._typed[index.row()].wrong.get(info.name)
        if fault is None:
            return None
        if role in (_ROLE.ToolTipRole, _ROLE.AccessibleDescriptionRole):
            return f"{fault.wrong}; {fault.right}"
        if role == _ROLE.DecorationRole:
            return self.alarm
        return self.alarm if role == _ROLE.ForegroundRole else None

    def setData(self, index: Index, value: object, role: int = _ROLE.EditRole) -> bool:
        """Take what was written, read the row, and open another at the end."""
        if role != _ROLE.EditRole or not index.isValid():
            return False
        at, name = index.row(), self._infos[index.column()].name
        if self._rows[at].get(name, "") == str(value):
            return True
        self._rows[at][name] = str(value)
        self._typed[at] = self._read(self._rows[at])
        self.dataChanged.emit(self.index(at, 0), self.index(at, len(self._infos) - 1))
        if at == len(self._rows) - 1 and not is_untouched(self._rows[at]):
            self._open_row()
        self.edited.emit()
        return True

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _ROLE.DisplayRole
    ) -> object:
        """Return the heading of a field, or the number of a row."""
        if role != _ROLE.DisplayRole:
            return None
        if orientation == Qt.Orientation.Vertical:
            return str(section + 1)
        if not 0 <= section < len(self._infos):
            return None
        info = self._infos[section]
        return info.column.heading + (" *" if info.required else "")

    def _open_row(self) -> None:
        if self._kind is None:
            return
        end = len(self._rows)
        self.beginInsertRows(QModelIndex(), end, end)
        self._rows.append(next_row(self._kind, self._dossier, self._rows))
        self._typed.append(self._read(self._rows[-1]))
        self.endInsertRows()

    def _read(self, row: Texts) -> Typed:
        if self._kind is None:
            return Typed(None, {}, {})
        return read_record(self._kind, row, self._dossier)
