"""What a field of a form is written in: a line, a few lines, a choice, a name with help."""

from collections.abc import Callable
from typing import Protocol

from PySide6.QtCore import QElapsedTimer, QStringListModel, Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QCompleter, QLineEdit, QPlainTextEdit, QWidget

from workbench.desk.entry import choices, takes_other_words
from workbench.records import Dossier, FieldInfo, Record

_LONG = frozenset(
    {"note", "description", "caption", "reason", "contact", "deviation", "opinion", "statement",
     "text", "mechanism", "basis", "against", "limits", "range_of_opinion", "question", "words"}
)  # fmt: skip

_FEWEST, _MOST = 3, 9
"""Lines of a field for longer words: at least, and before it scrolls."""
_TYPING_MS = 1500
"""After so long at rest, what is typed into a choice begins a new word."""


class Edit(Protocol):
    """What all fields of a form answer to."""

    def text(self) -> str:
        """Return what stands in it."""
        ...

    def put(self, text: str) -> None:
        """Write `text` into it, without telling anyone."""
        ...

    def widget(self) -> QWidget:
        """Return the widget that takes the focus."""
        ...


class LineField:
    """One line, with the names it may hold offered while typing."""

    def __init__(self, offered: tuple[str, ...], told: Callable[[], None], parent: QWidget) -> None:
        """Offer `offered`; call `told` when the person wrote."""
        self._line = QLineEdit(parent)
        self._line.textEdited.connect(lambda _text: told())
        if offered:
            completer = QCompleter(QStringListModel(list(offered), self._line), self._line)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.activated.connect(lambda _text: told())
            self._line.setCompleter(completer)

    def text(self) -> str:
        """Return what stands in it."""
        return self._line.text()

    def put(self, text: str) -> None:
        """Write `text` into it."""
        if text != self._line.text():
            self._line.setText(text)
            self._line.setCursorPosition(0)

    def widget(self) -> QWidget:
        """Return the line."""
        return self._line


class _Lines(QPlainTextEdit):
    """As many lines as what was put into it needs, within reason; typing moves nothing below."""

    def fit(self) -> None:
        """Be as high as the text needs at the width there is."""
        lines = min(max(round(self.document().size().height()), _FEWEST), _MOST)
        room = (
            self.height() - self.viewport().height() + 2 * round(self.document().documentMargin())
        )
        self.setFixedHeight(lines * self.fontMetrics().lineSpacing() + room)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit again where the width is another."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit()


class LinesField:
    """A few lines; Tab leaves them."""

    def __init__(self, told: Callable[[], None], parent: QWidget) -> None:
        """Call `told` when the person wrote."""
        self._lines = _Lines(parent)
        self._lines.setTabChangesFocus(True)
        self._putting = False
        self._lines.textChanged.connect(lambda: None if self._putting else told())

    def text(self) -> str:
        """Return what stands in it."""
        return self._lines.toPlainText()

    def put(self, text: str) -> None:
        """Write `text` into it."""
        if text != self._lines.toPlainText():
            self._putting = True
            self._lines.setPlainText(text)
            self._lines.fit()
            self._putting = False

    def widget(self) -> QWidget:
        """Return the lines."""
        return self._lines


class _Choice(QComboBox):
    """A choice that is typed into: what is typed in one go names the word, spaces and all.

    The wheel does not change it while one scrolls over the form.
    """

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._typed = ""
        self._since = QElapsedTimer()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose the word that begins with what was typed, or has it; at rest, space opens."""
        if not self._since.isValid() or self._since.elapsed() > _TYPING_MS:
            self._typed = ""
        sign = event.text()
        if not sign or not sign.isprintable() or not (self._typed + sign).strip():
            super().keyPressEvent(event)
            return
        self._typed += sign
        self._since.start()
        if (at := self._named(self._typed.casefold())) is not None and at != self.currentIndex():
            self.setCurrentIndex(at)
            self.activated.emit(at)

    def _named(self, typed: str) -> int | None:
        words = [self.itemText(at).casefold() for at in range(self.count())]
        begins = (at for at, word in enumerate(words) if word.startswith(typed))
        return next(begins, next((at for at, word in enumerate(words) if typed in word), None))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the form."""
        event.ignore()


class ChoiceField:
    """A word of a closed list, or blank."""

    def __init__(self, words: tuple[str, ...], told: Callable[[], None], parent: QWidget) -> None:
        """Offer `words`; call `told` when the person chose."""
        self._choice = _Choice(parent)
        self._choice.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._choice.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        for word in ("", *words):
            self._choice.addItem(word.replace("_", " "), word)
        self._choice.activated.connect(lambda _at: told())

    def text(self) -> str:
        """Return the word chosen."""
        return str(self._choice.currentData() or "")

    def put(self, text: str) -> None:
        """Choose `text`; a word that is not offered is offered from now on."""
        if self._choice.findData(text) < 0:
            self._choice.addItem(text.replace("_", " "), text)
        self._choice.setCurrentIndex(self._choice.findData(text))

    def widget(self) -> QWidget:
        """Return the choice."""
        return self._choice


def edit_for(
    kind: type[Record],
    info: FieldInfo,
    dossier: Dossier,
    told: Callable[[], None],
    parent: QWidget,
) -> Edit:
    """Return what a field is written in, named for those who hear the screen."""
    offered = choices(kind, info, dossier)
    closed = bool(offered) and not info.column.refers and not takes_other_words(info)
    made: Edit
    if closed:
        made = ChoiceField(offered, told, parent)
    elif info.type is str and info.name in _LONG:
        made = LinesField(told, parent)
    else:
        made = LineField(offered, told, parent)
    widget = made.widget()
    widget.setAccessibleName(info.column.heading + (", required" if info.required else ""))
    hint = info.column.hint or (f"in {info.column.unit}" if info.column.unit else "")
    widget.setToolTip(hint)
    if hint and isinstance(widget, QLineEdit):
        widget.setPlaceholderText(hint)
    return made
