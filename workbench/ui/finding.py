"""Find anything: records, places, values, pages and commands, offered while one types."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QObject, QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from workbench.desk.questions.search import Found
from workbench.records import Source
from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.commands import Command
from workbench.ui.pages.registry import PageSpec, pages_of
from workbench.ui.parts import EscapeFirst
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

_PAUSE_MS = 80


@dataclass(frozen=True, slots=True)
class _Doing:
    command: Command


class Finder(QObject):
    """Hangs a list below the line in which is searched.

    Attributes:
        opened: The person wants the record of this source.
        done: The person wants this command done.
        turned: The person wants the page with this key.
    """

    opened = Signal(object)
    done = Signal(object)
    turned = Signal(str)

    def __init__(
        self,
        bench: Bench,
        line: QLineEdit,
        commands: Callable[[], tuple[Command, ...]],
        over: QWidget,
    ) -> None:
        """Offer records of `bench` and `commands` below `line`, over the widget `over`."""
        super().__init__(over)
        self._bench, self._line, self._commands, self._over = bench, line, commands, over
        self.list = LinesView("Found", ("what", "called", "says"), over)
        self.list.horizontalHeader().hide()
        self.list.setFrameShape(LinesView.Shape.Box)
        self.list.setWordWrap(False)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.hide()
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._pause.timeout.connect(self._search)
        line.textEdited.connect(lambda _text: self._pause.start())
        line.installEventFilter(self)
        EscapeFirst(line, lambda: self._asked)
        self.list.clicked.connect(lambda index: self._open(index.row()))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move in the list with the arrows, open with Return, leave with Esc."""
        if watched is not self._line:
            return False
        if event.type() == QEvent.Type.FocusOut:
            self.list.hide()
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return False
        return self._on_key(Qt.Key(event.key()))

    def _on_key(self, key: Qt.Key) -> bool:
        if key in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.list.isVisible():
            by = 1 if key == Qt.Key.Key_Down else -1
            row = (self.list.currentIndex().row() + by) % max(1, self.list.lines.rowCount())
            self.list.setCurrentIndex(self.list.lines.index(row, 0))
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._pause.stop()
            self._search()
            self._open(max(0, self.list.currentIndex().row()))
            return True
        if key == Qt.Key.Key_Escape and self._asked:
            self._line.clear()
            self.list.hide()
            return True
        return False

    @property
    def _asked(self) -> bool:
        """Whether anything is being searched for."""
        return self.list.isVisible() or bool(self._line.text())

    def _search(self) -> None:
        words = self._line.text().strip()
        found = [*self._commands_found(words), *_pages_found(words)]
        lines = [*found, *map(_line, self._bench.search.search(words))]
        if words and not lines:
            lines = [Line(("", "nothing", f"No record, no page and no command says “{words}”"))]
        self.list.show_lines(lines, (18, 24))
        self._place(len(lines))
        if lines:
            self.list.setCurrentIndex(self.list.lines.index(0, 0))

    def _commands_found(self, words: str) -> list[Line]:
        wanted = words.casefold().split()
        return [
            Line(("command", one.name, one.keys), _Doing(one))
            for one in self._commands()
            if wanted and all(word in one.name.casefold() for word in wanted)
        ][:6]

    def _place(self, number: int) -> None:
        """Lay the list below the line, as high as it needs."""
        self.list.setVisible(number > 0)
        width = max(self._line.width(), step(self._over, 76))
        corner = self._line.mapTo(
            self._over, QPoint(self._line.width() - width, self._line.height())
        )
        height = min(number, 16) * step(self._over, 2.75) + step(self._over)
        self.list.setGeometry(max(0, corner.x()), corner.y() + 2, width, height)
        self.list.raise_()

    def _open(self, row: int) -> None:
        line = self.list.lines.line_at(row)
        if line is None or line.behind is None:
            return
        self.list.hide()
        self._line.clear()
        if isinstance(line.behind, _Doing):
            self.done.emit(line.behind.command)
        elif isinstance(line.behind, PageSpec):
            self.turned.emit(line.behind.key)
        elif isinstance(line.behind, Source):
            self.opened.emit(line.behind)


def _pages_found(words: str) -> list[Line]:
    """Return the pages whose name has a word that begins with each word looked for."""
    wanted = words.casefold().split()
    return [
        Line(("page", page.title, f"in {page.chapter}"), page)
        for chapter in Chapter
        for page in pages_of(chapter)
        if wanted and all(_begins(word, page.title) for word in wanted)
    ]


def _begins(word: str, title: str) -> bool:
    return any(part.startswith(word) for part in title.casefold().split())


def _line(found: Found) -> Line:
    record = found.record
    return Line((type(record).title, record.label, found.said), record.source)
