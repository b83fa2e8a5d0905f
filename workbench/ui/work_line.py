"""Long work told in one line: what runs, how far it is, and a way to stop it."""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QWidget

from workbench.records import KnownError
from workbench.ui.parts import button, label
from workbench.ui.tasks import Task, Work, start
from workbench.ui.theme import step


class WorkLine(QWidget):
    """Runs one piece of work at a time and shows it.

    Attributes:
        told: Something to tell the person, and whether it is wrong.
    """

    told = Signal(str, bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show nothing while nothing runs."""
        super().__init__(parent)
        self._task: Task | None = None
        self._name = ""
        self._words = label("", "", self)
        self._bar = QProgressBar(self)
        self._bar.setFixedWidth(step(self, 24))
        self._bar.setAccessibleName("Progress")
        self._stop = button("Cancel", self.cancel, self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(step(self))
        for widget in (self._words, self._bar, self._stop):
            row.addWidget(widget)
        self.hide()

    @property
    def busy(self) -> bool:
        """Whether something runs."""
        return self._task is not None

    def begin(self, words: str, work: Work, then: Callable[..., object]) -> bool:
        """Run `work`, call `then` with what it returns, and return whether it has begun.

        Args:
            words: What runs, as "Writing the report".
            work: A plain function of records and paths.
            then: Called on the screen's thread when it succeeded.
        """
        if self._task is not None:
            self.told.emit(f"Wait: {self._name.lower()}…", True)
            return False
        self._name = words
        self._words.setText(f"{words}…")
        self._bar.setRange(0, 0)
        self.show()
        self._task = start(work, self)
        self._task.progressed.connect(self._on_progress)
        self._task.succeeded.connect(then)
        self._task.failed.connect(self._on_failed)
        self._task.ended.connect(self._on_ended)
        return True

    def cancel(self) -> None:
        """Ask what runs to stop."""
        if self._task is not None:
            self._task.cancel()
            self.told.emit(f"Stopping: {self._name.lower()}…", False)

    def drop(self) -> None:
        """Stop what runs; nobody is there any more to be told."""
        if self._task is not None:
            self._task.drop()

    def _on_progress(self, done: int, whole: int) -> None:
        self._bar.setRange(0, max(whole, 1))
        self._bar.setValue(done)

    def _on_failed(self, wrong: Exception) -> None:
        if not isinstance(wrong, KnownError | OSError):
            raise wrong
        self.told.emit(str(wrong), True)

    def _on_ended(self) -> None:
        if self._task is not None and self._task.stopped:
            self.told.emit(f"Stopped: {self._name.lower()}; nothing of it is kept.", False)
        self._task = None
        self.hide()
