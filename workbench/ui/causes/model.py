"""The matrix: one row an observation, one column a candidate cause."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from workbench.reasoning.results import Candidate, Cell, Matrix, Row

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole


class MatrixModel(QAbstractTableModel):
    """The cells and what they say."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._matrix = Matrix(candidates=(), rows=())

    @property
    def matrix(self) -> Matrix:
        """What is shown."""
        return self._matrix

    def show_matrix(self, matrix: Matrix) -> None:
        """Show another matrix."""
        self.beginResetModel()
        self._matrix = matrix
        self.endResetModel()

    def cell_at(self, index: Index) -> Cell | None:
        """Return the cell at an index, or None where there is none."""
        row = self.row_at(index.row())
        return row.cells[index.column()] if row and 0 <= index.column() < len(row.cells) else None

    def row_at(self, row: int) -> Row | None:
        """Return the observation of a row, or None where there is none."""
        return self._matrix.rows[row] if 0 <= row < len(self._matrix.rows) else None

    def candidate_at(self, column: int) -> Candidate | None:
        """Return the candidate of a column, or None where there is none."""
        held = self._matrix.candidates
        return held[column] if 0 <= column < len(held) else None

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of observations."""
        return 0 if parent.isValid() else len(self._matrix.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of candidates."""
        return 0 if parent.isValid() else len(self._matrix.candidates)

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return the sign of a cell, what it says in words, or the cell."""
        cell = self.cell_at(index)
        if cell is None:
            return None
        if role == _ROLE.DisplayRole:
            return cell.bearing.sign
        if role == _ROLE.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignCenter)
        if role in (_ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            candidate, row = self.candidate_at(index.column()), self.row_at(index.row())
            title, seen = candidate.title if candidate else "", row.label if row else ""
            return f"{title}: {seen}, {cell.bearing}"
        return cell if role == _ROLE.UserRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _ROLE.DisplayRole
    ) -> object:
        """Return a candidate with its rank and grade, or what was observed."""
        if role not in (_ROLE.DisplayRole, _ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            return None
        if orientation == Qt.Orientation.Horizontal:
            candidate = self.candidate_at(section)
            if candidate is None:
                return None
            return f"{candidate.rank}  {candidate.title}"
        row = self.row_at(section)
        if row is None:
            return None
        return row.label if role == _ROLE.DisplayRole else f"{row.stage}: {row.question}"
