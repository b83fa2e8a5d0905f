"""Small forms of the laboratory's pages: named lines, choices, and numbers out of them."""

from collections.abc import Callable, Sequence
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QLineEdit, QWidget

from workbench.records import KnownError
from workbench.ui.theme import step

W = TypeVar("W", QLineEdit, QComboBox)


class Fields(QWidget):
    """Named fields under each other; each name is heard with its field."""

    def __init__(self, changed: Callable[[], object], parent: QWidget | None = None) -> None:
        """Have no field yet; `changed` is told when a person changed one."""
        super().__init__(parent)
        self._changed = changed
        self._form = QFormLayout(self)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setVerticalSpacing(step(self, 0.25))
        self._form.setLabelAlignment(Qt.AlignmentFlag.AlignRight)
        self.held: dict[str, QLineEdit | QComboBox] = {}

    def add_line(self, name: str, value: str = "", hint: str = "") -> QLineEdit:
        """Add a line to write on."""
        made = QLineEdit(value, self)
        made.setPlaceholderText(hint)
        made.editingFinished.connect(self._changed)
        return self._add(name, made)

    def add_choice(self, name: str, words: Sequence[str]) -> QComboBox:
        """Add a choice of words."""
        made = QComboBox(self)
        made.addItems(list(words))
        made.activated.connect(lambda _at: self._changed())
        return self._add(name, made)

    def text(self, name: str) -> str:
        """Return what a field says."""
        field = self.held[name]
        said = field.currentText() if isinstance(field, QComboBox) else field.text()
        return said.strip()

    def number(self, name: str) -> float:
        """Return the number that a field says.

        Raises:
            KnownError: It says none.
        """
        said = self.text(name)
        try:
            return float(said.replace(",", "."))
        except ValueError:
            raise KnownError(f"{name}: “{said}” is no number; write one, as 35.5") from None

    def set_text(self, name: str, said: str) -> None:
        """Put words into a field."""
        field = self.held[name]
        if isinstance(field, QComboBox):
            field.setCurrentText(said)
        else:
            field.setText(said)

    def _add(self, name: str, made: W) -> W:
        made.setAccessibleName(name)
        self.held[name] = made
        self._form.addRow(name, made)
        return made
