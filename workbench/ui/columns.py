"""How the desk is divided: chapters, the page over what stands below it, the instruments."""

from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from workbench.ui.parts import rule
from workbench.ui.theme import step

_WIDTHS = ((21, 0), (96, 7), (43, 3))
"""Width of each column in steps, and its share of what is left over."""


class Columns(QWidget):
    """Three columns whose borders a person moves.

    Attributes:
        across: The columns.
        instruments: The one at the right.
    """

    def __init__(self, parent: QWidget) -> None:
        """Divide the room; nothing stands in it yet."""
        super().__init__(parent)
        self.instruments = QSplitter(Qt.Orientation.Vertical, self)
        self.across = QSplitter(Qt.Orientation.Horizontal, self)
        self._halves = QSplitter(Qt.Orientation.Vertical, self)

    def hold(
        self,
        chapters: QWidget,
        *,
        bar: QWidget,
        centre: tuple[QWidget, QWidget],
        instruments: tuple[QWidget, QWidget],
    ) -> None:
        """Fill the columns; `bar` stands over the halves of the `centre`."""
        middle = QWidget(self)
        stacked = QVBoxLayout(middle)
        stacked.setContentsMargins(0, 0, 0, 0)
        stacked.setSpacing(0)
        stacked.addWidget(bar)
        stacked.addWidget(rule(self))
        stacked.addWidget(self._halves, 1)
        for half in centre:
            self._halves.addWidget(half)
        self._halves.setSizes([step(self, 48), step(self, 38)])
        for one in instruments:
            self.instruments.addWidget(one)
        for splitter in self._splitters.values():
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        columns = (chapters, middle, self.instruments)
        for at, (widget, (width, share)) in enumerate(zip(columns, _WIDTHS, strict=True)):
            self.across.addWidget(widget)
            widget.setMinimumWidth(step(self, min(width, 30) * 0.8))
            self.across.setStretchFactor(at, share)
        self.across.setSizes([step(self, width) for width, _ in _WIDTHS])
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.across)

    def save_state(self, settings: QSettings) -> None:
        """Keep how the room is divided."""
        for name, splitter in self._splitters.items():
            settings.setValue(f"desk/{name}", splitter.saveState())

    def restore_state(self, settings: QSettings) -> None:
        """Divide the room as it was."""
        for name, splitter in self._splitters.items():
            if (state := settings.value(f"desk/{name}")) is not None:
                splitter.restoreState(state)

    @property
    def _splitters(self) -> dict[str, QSplitter]:
        return {
            "columns": self.across,
            "instruments": self.instruments,
            "halves": self._halves,
        }
