"""Results that take longer than a moment, computed off the screen from the records as they are."""

from collections.abc import Callable
from typing import TypeVar, cast

from PySide6.QtCore import QObject, QTimer, Signal

from workbench.records import Dossier
from workbench.ui.tasks import Task

T = TypeVar("T")
Question = Callable[[Dossier], T]
_AFTER_MS = 40
"""Work begins when nothing more was asked for so long: first the screen is painted."""
_REST_MS = 1_500
"""A patient question is worked on when nothing else was for so long."""


class Answers(QObject):
    """The answers to questions about the records, each computed once for the same records.

    One question is worked on at a time, so that the screen keeps a core to itself.

    Attributes:
        ready: The answer to this question has come.
        failed: This question ended with this exception.
        working: Whether anything is being computed.
    """

    ready = Signal(object)
    failed = Signal(object, object)
    working = Signal(bool)

    def __init__(self, dossier: Dossier, parent: QObject) -> None:
        """Know nothing yet about the records of `dossier`."""
        super().__init__(parent)
        self._dossier = dossier
        self._known: dict[Question[object], object] = {}
        self._waiting: list[Question[object]] = []
        self._patient: set[Question[object]] = set()
        self._task: Task | None = None
        self._closed = False
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(_AFTER_MS)
        self._soon.timeout.connect(self._next)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_REST_MS)
        self._later.timeout.connect(self._begin)

    @property
    def idle(self) -> bool:
        """Whether nothing is being computed and nothing waits to be."""
        return self._task is None and not self._waiting

    def ask(self, question: Question[T], *, patient: bool = False) -> T | None:
        """Return the answer if it is known; else None now, and `ready` when it has come.

        Args:
            question: What is asked.
            patient: Whether it waits until nothing else is asked and the screen is at rest.
        """
        if question in self._known:
            return cast("T", self._known[question])
        if self._closed:
            return None
        asked = question in self._waiting
        if patient and not asked:
            self._patient.add(question)
        hurried = not patient and question in self._patient
        if hurried:
            self._patient.discard(question)
        if not asked:
            self._waiting.append(question)
        if hurried or not asked:
            self._soon.start()
        return None

    def renew(self, dossier: Dossier) -> None:
        """Forget what was known of the old records."""
        self._dossier = dossier
        self._known.clear()
        self._waiting.clear()
        self._patient.clear()
        self._later.stop()
        if self._task:
            self._task.drop()

    def close(self) -> None:
        """Compute nothing more."""
        self._closed = True
        self.renew(self._dossier)

    def _next(self) -> None:
        """Work on what is asked; on a patient question after a rest."""
        if self._task or not self._waiting:
            return
        if self._patient.issuperset(self._waiting):
            self._later.start()
        else:
            self._later.stop()
            self._begin()

    def _begin(self) -> None:
        if self._task or not self._waiting:
            return
        pressing = (one for one in self._waiting if one not in self._patient)
        question, dossier = next(pressing, self._waiting[0]), self._dossier
        self._task = Task(lambda _step: question(dossier), self)
        self._task.succeeded.connect(lambda result: self._on_answer(question, dossier, result))
        self._task.failed.connect(lambda wrong: self._on_failure(question, dossier, wrong))
        self._task.ended.connect(self._on_end)
        self._task.start()
        self.working.emit(True)

    def _on_answer(self, question: Question[object], dossier: Dossier, result: object) -> None:
        if dossier is self._dossier:
            self._waiting.remove(question)
            self._patient.discard(question)
            self._known[question] = result
            self.ready.emit(question)

    def _on_failure(self, question: Question[object], dossier: Dossier, wrong: Exception) -> None:
        if dossier is self._dossier:
            self._waiting.remove(question)
            self._patient.discard(question)
            self.failed.emit(question, wrong)

    def _on_end(self) -> None:
        self._task = None
        if self._patient.issuperset(self._waiting):
            self.working.emit(False)
        if not self._closed:
            self._next()
