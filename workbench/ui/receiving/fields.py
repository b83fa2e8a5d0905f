"""The fields of the two checks: short lists and lines, one under the other."""

from collections.abc import Callable, Sequence

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from workbench.ui.form.edits import ChoiceField, LineField
from workbench.ui.parts import label
from workbench.ui.theme import step

Field = ChoiceField | LineField
_COLUMN = 22
"""Steps that a name and its field need."""


class Fields(QWidget):
    """Fields by name, in one column or as many more as there is room for."""

    def __init__(
        self,
        said: Sequence[tuple[str, str, Sequence[str]]],
        told: Callable[[], None],
        parent: QWidget,
        *,
        columns: int = 1,
    ) -> None:
        """Make a field for each name, heading and list of words; no words make a free line."""
        super().__init__(parent)
        self.fields: dict[str, Field] = {}
        self._most, self._columns = columns, 0
        self._rows: list[tuple[QWidget, QWidget]] = []
        self._grid = grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(step(self))
        grid.setVerticalSpacing(step(self) // 2)
        for name, heading, words in said:
            made: Field = (
                ChoiceField(tuple(words), told, self) if words else LineField((), told, self)
            )
            widget = made.widget()
            widget.setAccessibleName(heading)
            self.fields[name] = made
            self._rows.append((label(heading, "quiet", self), widget))
        self._arrange(1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand in as many columns as there is room for."""
        super().resizeEvent(event)
        self._arrange(min(self._most, max(1, event.size().width() // step(self, _COLUMN))))

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns, rows = columns, -(-len(self._rows) // columns)
        for column in range(self._grid.columnCount()):
            self._grid.setColumnStretch(column, 0)
        for at, (heading, widget) in enumerate(self._rows):
            column, row = divmod(at, rows)
            self._grid.addWidget(heading, row, 2 * column)
            self._grid.addWidget(widget, row, 2 * column + 1)
            self._grid.setColumnStretch(2 * column + 1, 1)

    def text(self, name: str) -> str:
        """Return what stands in the field called `name`."""
        return self.fields[name].text().strip()

    def put(self, name: str, text: str) -> None:
        """Write `text` into the field called `name`."""
        self.fields[name].put(text)

    def clear(self) -> None:
        """Empty all fields."""
        for field in self.fields.values():
            field.put("")

    def enter(self, name: str) -> None:
        """Go to the field called `name`."""
        self.fields[name].widget().setFocus()

    def first_blank(self) -> str:
        """Return the name of the first field with nothing in it, or an empty text."""
        return next((name for name in self.fields if not self.text(name)), "")
