"""The planes of a stack as rows, from the glue down to the substrate."""

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from workbench.desk.questions.layers import PlaneLine, Stack
from workbench.records import Plane

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole


class PlaneModel(QAbstractListModel):
    """One row a plane."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._stack = Stack("", (), ())

    @property
    def stack(self) -> Stack:
        """The stack shown."""
        return self._stack

    def show_stack(self, stack: Stack) -> None:
        """Show another stack, or what is now known of this one."""
        planes = [line.plane for line in stack.lines]
        if planes == [line.plane for line in self._stack.lines]:
            self._stack = stack
            if planes:
                self.dataChanged.emit(self.index(0), self.index(len(planes) - 1))
            return
        self.beginResetModel()
        self._stack = stack
        self.endResetModel()

    def line_at(self, row: int) -> PlaneLine | None:
        """Return the plane of a row, or None where there is none."""
        return self._stack.lines[row] if 0 <= row < len(self._stack.lines) else None

    def row_of(self, plane: Plane) -> int | None:
        """Return the row of a plane; the glue planes share one."""
        for row, line in enumerate(self._stack.lines):
            if line.plane == plane or (line.plane.in_glue and plane.in_glue):
                return row
        return None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of planes."""
        return 0 if parent.isValid() else len(self._stack.lines)

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return the plane in words, all that is known of it, or the line itself."""
        line = self.line_at(index.row())
        if line is None:
            return None
        if role == _ROLE.DisplayRole:
            return f"{line.plane}  {line.name}"
        if role in (_ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            return line.line
        return line if role == _ROLE.UserRole else None
