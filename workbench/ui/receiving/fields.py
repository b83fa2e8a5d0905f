"""The fields of the two checks: short lists and lines, one under the other."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QGridLayout, QWidget

from workbench.ui.form.edits import ChoiceField, LineField
from workbench.ui.parts import label
from workbench.ui.theme import step

Field = ChoiceField | LineField


class Fields(QWidget):
    """Fields by name, in one column or several."""

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
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(step(self))
        grid.setVerticalSpacing(step(self) // 2)
        rows = -(-len(said) // columns)
        for at, (name, heading, words) in enumerate(said):
            made: Field = (
                ChoiceField(tuple(words), told, self) if words else LineField((), told, self)
            )
            widget = made.widget()
            widget.setAccessibleName(heading)
            self.fields[name] = made
            column, row = divmod(at, rows)
            grid.addWidget(label(heading, "quiet", self), row, 2 * column)
            grid.addWidget(widget, row, 2 * column + 1)
            grid.setColumnStretch(2 * column + 1, 1)

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
