"""Small parts that all panels are made of."""

from collections.abc import Callable
from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from workbench.ui.theme import step


class Words(QLabel):
    """Words that ask for the height they take at their width, wherever they stand."""

    def setText(self, text: str) -> None:
        """Say something else."""
        super().setText(text)
        self._ask_for_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for as many lines as are needed."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._ask_for_height()

    def _ask_for_height(self) -> None:
        if self.wordWrap():
            self.setMinimumHeight(0)
            self.setMinimumHeight(max(0, self.heightForWidth(self.width())))


def label(text: str, role: str = "", parent: QWidget | None = None) -> QLabel:
    """Return words in a role of the style sheet: title, heading, quiet, wrong."""
    made = Words(text, parent)
    if role:
        made.setProperty("role", role)
    made.setTextInteractionFlags(Qt.TextInteractionFlag.NoTextInteraction)
    return made


def bare_column(panel: QWidget) -> QVBoxLayout:
    """Lay `panel` out as one column without margins, and return it."""
    column = QVBoxLayout(panel)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    return column


def parted(
    panel: QWidget,
    along: Qt.Orientation,
    halves: tuple[QWidget, QWidget],
    *,
    grows: int | None = None,
    steps: tuple[float, float] | None = None,
) -> QSplitter:
    """Return two parts of `panel` with a line between them that a person can move.

    Args:
        panel: What they are parts of.
        along: How they follow each other.
        halves: The two, neither of which can be moved away.
        grows: Which of them takes what room there is more; None for both.
        steps: Their widths or heights at first, in steps of the text's size.
    """
    made = QSplitter(along, panel)
    made.setHandleWidth(1)
    made.setChildrenCollapsible(False)
    for half in halves:
        made.addWidget(half)
    if grows is not None:
        made.setStretchFactor(grows, 1)
    if steps:
        made.setSizes([step(panel, one) for one in steps])
    return made


def scrolled(page: QWidget) -> QScrollArea:
    """Return room for `page`: where it is too small the page is scrolled, and asks for no more."""
    room = QScrollArea()
    room.setWidgetResizable(True)
    room.setFrameShape(QFrame.Shape.NoFrame)
    room.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    room.setWidget(page)
    return room


def follow_with_tab(*roots: QWidget) -> None:
    """Let Tab go through each of `roots` in turn, within each in the order it was made."""
    chain = [widget for root in roots for widget in _stops(root)]
    for before, after in pairwise(chain):
        QWidget.setTabOrder(before, after)


def _stops(root: QWidget) -> list[QWidget]:
    """Return what Tab stops at in `root`, in the order in which it was made."""
    tab, room = Qt.FocusPolicy.TabFocus, root.window()
    parts = [root, *(one for one in root.findChildren(QWidget) if one.window() is room)]
    return [one for one in parts if one.focusPolicy() & tab and one.focusProxy() is None]


def named(words: str, field: QWidget, parent: QWidget) -> QWidget:
    """Return a field with its name before it, as one part that stays together."""
    both = QWidget(parent)
    name = label(words, "quiet", both)
    name.setBuddy(field)
    row = QHBoxLayout(both)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(step(parent))
    row.addWidget(name)
    row.addWidget(field)
    return both


class EscapeFirst(QObject):
    """Gives Esc to a widget before the window's own command, while the widget has a use for it."""

    def __init__(self, widget: QWidget, wanted: Callable[[], bool] = lambda: True) -> None:
        """Watch `widget`; `wanted` says whether it has a use for Esc now."""
        super().__init__(widget)
        self._wanted = wanted
        widget.installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        """Claim the key before it becomes a command."""
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
            return False
        if event.key() != Qt.Key.Key_Escape or not self._wanted():
            return False
        event.accept()
        return True


class Elided(QLabel):
    """A line of text that ends in a sign where there is no room for all of it."""

    def minimumSizeHint(self) -> QSize:
        """Need no width of its own."""
        return QSize(1, super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint as much as there is room for."""
        painter = QPainter(self)
        room = self.contentsRect()
        shown = painter.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(room, int(self.alignment()), shown)
        painter.end()


def elided(role: str = "", parent: QWidget | None = None) -> Elided:
    """Return a line that is cut off with a sign; its whole text is its tip."""
    made = Elided(parent)
    if role:
        made.setProperty("role", role)
    return made


def overline(text: str, parent: QWidget | None = None) -> QLabel:
    """Return the heading of a panel."""
    return label(text.upper(), "overline", parent)


def rule(parent: QWidget | None = None) -> QFrame:
    """Return a hairline between two parts."""
    made = QFrame(parent)
    made.setFixedHeight(1)
    made.setProperty("panel", "rule")
    return made


def button(
    text: str,
    act: Callable[[], object],
    parent: QWidget | None = None,
    *,
    main: bool = False,
    tip: str = "",
) -> QPushButton:
    """Return a button that does `act`; `main` for the one that the place is about."""
    made = QPushButton(text, parent)
    made.setToolTip(tip)
    made.setAutoDefault(False)
    if main:
        made.setProperty("main", True)
    made.clicked.connect(lambda _checked=False: act())
    return made


def tool(text: str, tip: str, act: Callable[[], object], parent: QWidget) -> QToolButton:
    """Return a small button without a frame, named for those who hear the screen by its tip."""
    made = QToolButton(parent)
    made.setText(text)
    made.setToolTip(tip)
    made.setAccessibleName(tip)
    made.setProperty("flat", True)
    made.clicked.connect(lambda _checked=False: act())
    return made
