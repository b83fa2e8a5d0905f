"""Long work off the screen's thread: it reports, can be stopped, and never outlives its window."""

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from workbench.records.problems import Cancelled

Step = Callable[[int, int], None]
Work = Callable[[Step], object]


class Task(QObject):
    """One piece of long work, seen from the screen's thread.

    Attributes:
        progressed: So much is done, of so much.
        succeeded: What the work returned.
        failed: The exception it ended with.
        ended: It is over, whichever way.
    """

    progressed = Signal(int, int)
    succeeded = Signal(object)
    failed = Signal(object)
    ended = Signal()

    def __init__(self, work: Work, parent: QObject) -> None:
        """Prepare `work`, a plain function of records and paths; `start` begins it."""
        super().__init__(parent)
        self._stop = Event()
        self._stopped = self._dropped = False
        self._run = _Run(work, self._stop, self.progressed.emit, self._ended_with.emit)
        self._ended_with.connect(self._end)

    _ended_with = Signal(object, object)

    @property
    def stopped(self) -> bool:
        """Whether it ended because it was asked to, and left nothing."""
        return self._stopped

    def start(self) -> "Task":
        """Begin, and return the task."""
        QThreadPool.globalInstance().start(self._run)
        return self

    def cancel(self) -> None:
        """Ask the work to stop at its next step; what is done by then has succeeded."""
        self._stop.set()

    def drop(self) -> None:
        """Stop the work, and tell nobody of what comes of it but that it ended."""
        self._dropped = True
        self._stop.set()

    def _end(self, result: object, wrong: BaseException | None) -> None:
        self._stopped = isinstance(wrong, Cancelled)
        if self._dropped:
            pass
        elif wrong is None:
            self.succeeded.emit(result)
        elif not self._stopped:
            self.failed.emit(wrong)
        self.ended.emit()
        self.deleteLater()


class _Run(QRunnable):
    """The half on the other thread; it holds nothing of Qt but two ways to say something."""

    def __init__(
        self,
        work: Work,
        stop: Event,
        progressed: Callable[[int, int], None],
        ended: Callable[[object, BaseException | None], None],
    ) -> None:
        super().__init__()
        self._work, self._stop = work, stop
        self._progressed, self._ended = progressed, ended

    def run(self) -> None:
        """Do the work; whatever it raises is told on the screen's thread."""
        try:
            result, wrong = self._work(self._step), None
        except Exception as raised:  # noqa: BLE001 - told by `failed`
            result, wrong = None, raised
        try:
            self._ended(result, wrong)
        except RuntimeError:  # the window is gone, and with it whoever would listen
            return

    def _step(self, done: int, whole: int) -> None:
        if self._stop.is_set():
            raise Cancelled
        self._progressed(done, whole)


def start(work: Work, parent: QObject) -> Task:
    """Begin `work` for `parent` and return its task; connect its signals at once."""
    return Task(work, parent).start()
