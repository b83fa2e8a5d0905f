"""What a method can and cannot tell, beside its results."""

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from workbench.ui.parts import label, overline
from workbench.ui.theme import step


class Reach(QScrollArea):
    """The words for one method or several."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Say nothing yet."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("What it can and cannot tell")
        self._said: tuple[str, ...] = ()

    def show_methods(self, methods: Iterable[str]) -> None:
        """Show what the methods can and cannot tell, each once."""
        from workbench.analysis.laboratory.limits import limits_for

        wanted = tuple(methods)
        if wanted == self._said:
            return
        self._said = wanted
        inner = QWidget(self)
        column = QVBoxLayout(inner)
        column.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        column.setSpacing(step(self, 0.5))
        for one in limits_for(wanted):
            column.addWidget(overline(one.title, inner))
            for heading, sentences in (("Can tell", one.can), ("Cannot tell", one.cannot)):
                column.addWidget(wrapped(f"{heading}: {' '.join(sentences)}", inner))
            if one.detection:
                column.addWidget(wrapped(f"Least found: {one.detection}.", inner))
            column.addWidget(wrapped(f"Known from: {one.status}.", inner))
        column.addStretch()
        self.setWidget(inner)


def wrapped(words: str, parent: QWidget | None = None) -> QLabel:
    """Return quiet words that take as many lines as they need."""
    made = label(words, "quiet", parent)
    made.setWordWrap(True)
    return made
