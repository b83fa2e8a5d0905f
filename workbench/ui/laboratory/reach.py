"""What a method can and cannot tell, beside its results."""

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSplitter, QVBoxLayout, QWidget

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
            title = overline(one.title, inner)
            title.setWordWrap(True)
            column.addWidget(title)
            for heading, sentences in (("Can tell", one.can), ("Cannot tell", one.cannot)):
                column.addWidget(wrapped(f"{heading}: {' '.join(sentences)}", inner))
            if one.detection:
                column.addWidget(wrapped(f"Least found: {one.detection}.", inner))
            column.addWidget(wrapped(f"Known from: {one.status}.", inner))
        column.addStretch()
        self.setWidget(inner)


class Beside(QSplitter):
    """What was found, and beside it what that can and cannot tell: at its right, or under it."""

    def __init__(self, found: QWidget, reach: Reach, parent: QWidget | None = None) -> None:
        """Put `found` and `reach` together."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setHandleWidth(1)
        self.setChildrenCollapsible(False)
        self.addWidget(found)
        self.addWidget(reach)
        self.setStretchFactor(0, 1)
        reach.setMinimumHeight(step(self, 7))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the words under what was found where there is no room for both side by side."""
        super().resizeEvent(event)
        wide = event.size().width() >= step(self, _WIDE)
        way = Qt.Orientation.Horizontal if wide else Qt.Orientation.Vertical
        if way is not self.orientation() or event.oldSize().width() <= 0:
            self.setOrientation(way)
            room = step(self, 24 if wide else 9)
            whole = event.size().width() if wide else event.size().height()
            self.setSizes([max(1, whole - room), room])


_WIDE = 78
"""Steps of width from which both have room side by side."""


def cannot(method: str) -> str:
    """Return in one line what results by a method cannot tell."""
    from workbench.analysis.laboratory.limits import limits_of

    found = limits_of(method)
    return f"Cannot tell: {' '.join(found.cannot)}" if found else ""


def wrapped(words: str, parent: QWidget | None = None) -> QLabel:
    """Return quiet words that take as many lines as they need."""
    made = label(words, "quiet", parent)
    made.setWordWrap(True)
    return made
