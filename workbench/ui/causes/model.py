"""The matrix: one row an observation under its stage, one column a candidate cause."""

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from workbench.reasoning.results import Bearing, Candidate, Cell, Matrix, Row

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole
_SAID = (_ROLE.DisplayRole, _ROLE.ToolTipRole, _ROLE.AccessibleTextRole)
_STAGES = {
    "background": "Background", "survey": "Survey", "field": "Field tests", "lab": "Laboratory",
}  # fmt: skip


class MatrixModel(QAbstractTableModel):
    """The cells and what they say; the name of a stage stands in a row of its own."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._matrix = Matrix(candidates=(), rows=())
        self._rows: tuple[Row | str, ...] = ()

    @property
    def matrix(self) -> Matrix:
        """What is shown."""
        return self._matrix

    def show_matrix(self, matrix: Matrix) -> None:
        """Show another matrix."""
        self.beginResetModel()
        self._matrix = matrix
        rows: list[Row | str] = []
        for at, row in enumerate(matrix.rows):
            if at == 0 or matrix.rows[at - 1].stage != row.stage:
                rows.append(_STAGES.get(row.stage, row.stage))
            rows.append(row)
        self._rows = tuple(rows)
        self.endResetModel()

    def cell_at(self, index: Index) -> Cell | None:
        """Return the cell at an index, or None where there is none."""
        row = self.row_at(index.row())
        return row.cells[index.column()] if row and 0 <= index.column() < len(row.cells) else None

    def row_at(self, row: int) -> Row | None:
        """Return the observation of a row; None for the name of a stage, or where there is none."""
        held = self._rows[row] if 0 <= row < len(self._rows) else None
        return held if isinstance(held, Row) else None

    def stage_at(self, row: int) -> str:
        """Return the name of a stage that stands in a row; "" for an observation."""
        held = self._rows[row] if 0 <= row < len(self._rows) else ""
        return held if isinstance(held, str) else ""

    def candidate_at(self, column: int) -> Candidate | None:
        """Return the candidate of a column, or None where there is none."""
        held = self._matrix.candidates
        return held[column] if 0 <= column < len(held) else None

    def index_of(self, cause: str, key: str) -> QModelIndex:
        """Return where a candidate meets an observation; an invalid index where it does not."""
        columns = [at for at, one in enumerate(self._matrix.candidates) if one.cause == cause]
        rows = [at for at, one in enumerate(self._rows) if isinstance(one, Row) and one.key == key]
        return self.index(rows[0], columns[0]) if rows and columns else QModelIndex()

    def first_telling(self, column: int = 0) -> QModelIndex:
        """Return the first cell of a column that is not silent."""
        for at, row in enumerate(self._rows):
            if isinstance(row, Row) and row.cells[column].bearing is not Bearing.SILENT:
                return self.index(at, column)
        return self.index(1, column)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of observations and stages."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of candidates."""
        return 0 if parent.isValid() else len(self._matrix.candidates)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let cells be chosen, and the rows of stages be stepped over."""
        return Qt.ItemFlag.NoItemFlags if self.cell_at(index) is None else super().flags(index)

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
        if role not in _SAID:
            return None
        if orientation == Qt.Orientation.Horizontal:
            candidate = self.candidate_at(section)
            if candidate is None:
                return None
            return f"{candidate.place}  {candidate.title}, {candidate.grade}"
        if stage := self.stage_at(section):
            return stage
        row = self.row_at(section)
        if row is None:
            return None
        return row.label if role == _ROLE.DisplayRole else row.question
