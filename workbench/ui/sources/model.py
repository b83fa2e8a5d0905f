"""The tree of a trace: each step is looked up when it is first opened."""

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from workbench.desk.questions.sources import Grounds, Trace, below

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole
_HEADINGS = ("what", "says")


class _Step:
    """One step in its place."""

    def __init__(self, trace: Trace, parent: "_Step | None", row: int) -> None:
        self.trace, self.parent, self.row = trace, parent, row
        self.steps: list[_Step] | None = None

    def is_repeated(self) -> bool:
        """Whether the same record stands above it already."""
        above = self.parent
        while above is not None:
            if self.trace.source and above.trace.source == self.trace.source:
                return True
            above = above.parent
        return False


class TraceModel(QAbstractItemModel):
    """One trace and everything below it."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._grounds: Grounds | None = None
        self._root: _Step | None = None

    def show_trace(self, trace: Trace | None, grounds: Grounds | None) -> None:
        """Show what stands below `trace`."""
        self.beginResetModel()
        self._grounds = grounds
        self._root = _Step(trace, None, 0) if trace else None
        self.endResetModel()

    def trace_at(self, index: Index) -> Trace | None:
        """Return the step at an index, or None where there is none."""
        step = self._step(index) if index.isValid() else None
        return step.trace if step else None

    def index(self, row: int, column: int, parent: Index = QModelIndex()) -> QModelIndex:  # noqa: B008
        """Return the index of a step."""
        steps = self._steps(parent)
        if 0 <= row < len(steps) and 0 <= column < len(_HEADINGS):
            return self.createIndex(row, column, steps[row])
        return QModelIndex()

    def parent(self, index: Index) -> QModelIndex:  # type: ignore[override]  # QObject.parent too
        """Return the index of the step above."""
        step = self._step(index) if index.isValid() else None
        above = step.parent if step else None
        if above is None or above is self._root:
            return QModelIndex()
        return self.createIndex(above.row, 0, above)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return how many steps stand below one."""
        return len(self._steps(parent)) if parent.column() <= 0 else 0

    def columnCount(self, _parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return two: what it is, and what it says."""
        return len(_HEADINGS)

    def hasChildren(self, parent: Index = QModelIndex()) -> bool:  # noqa: B008 - Qt's own default
        """Return whether a step opens, without looking up what is below it."""
        if not parent.isValid():
            return self._root is not None
        step = self._step(parent)
        if parent.column() > 0 or step is None:
            return False
        return step.trace.opens and not step.is_repeated()

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return what a step is, or what it says."""
        trace = self.trace_at(index)
        if trace is None:
            return None
        if role == _ROLE.DisplayRole:
            return trace.title if index.column() == 0 else trace.detail
        if role in (_ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            return f"{trace.kind}: {trace.title}, {trace.detail}"
        return trace if role == _ROLE.UserRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = _ROLE.DisplayRole
    ) -> object:
        """Return a heading."""
        if orientation == Qt.Orientation.Horizontal and role == _ROLE.DisplayRole:
            return _HEADINGS[section]
        return None

    def _step(self, index: Index) -> _Step | None:
        held = index.internalPointer()
        return held if isinstance(held, _Step) else None

    def _steps(self, parent: Index) -> list[_Step]:
        step = self._step(parent) if parent.isValid() else self._root
        if step is None or self._grounds is None:
            return []
        if step.steps is None:
            found = () if step.is_repeated() else below(step.trace, self._grounds)
            step.steps = [_Step(trace, step, row) for row, trace in enumerate(found)]
        return step.steps
