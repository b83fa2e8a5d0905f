"""Taking in a book or pasted rows: read first, problems and differences told, then one act."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLineEdit,
    QProgressBar,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from workbench.records import KnownError, Problem, Record
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label, overline
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.tasks import Step, Task, start
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.desk.intake import Intake
    from workbench.exchange.field_book.comparing import Changes

    Reader = Callable[[Step], Intake]


class TakingInPage(Page):
    """What a book says, what is wrong with it, and what it would change.

    Attributes:
        problems: What is wrong with the book.
        changes: What it would change.
        taken: The book was taken in.
        left: The person left the book.
    """

    taken = Signal()
    left = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for a book."""
        super().__init__(bench, parent)
        self._reader: Reader | None = None
        self._read: Intake | None = None
        self._task: Task | None = None
        self._title = label("", "title", self)
        self._said = label("", "", self)
        self._bar = QProgressBar(self)
        self.problems = LinesView(
            "Problems", ("", "place", "cell", "what is wrong", "what would be right"), self
        )
        self.changes = LinesView("What it would change", ("", "record"), self)
        self.why = QLineEdit(self)
        self.why.setAccessibleName("Reason")
        self.why.setPlaceholderText("why what the report was issued on changes; it is printed")
        self.take_button = button("Take in", self.take, self, main=True)
        self._again = button("Read it again", self.read_again, self)
        self._leave = button("Leave it", self.leave, self)
        self._lay_out()

    @property
    def idle(self) -> bool:
        """Whether nothing is being read or taken in."""
        return self._task is None

    @property
    def said(self) -> str:
        """What stands above the lists."""
        return self._said.text()

    def begin(self, name: str, reader: "Reader") -> None:
        """Read a book called `name`."""
        self._title.setText(f"Take in {name}")
        self._reader = reader
        self.read_again()

    def read_again(self) -> None:
        """Read the book as it is now."""
        if self._reader is None or self._task:
            return
        self._read = None
        self._start(self._reader, "Reading…", self._on_read)

    def take(self) -> None:
        """Take the book in, in one act."""
        if self._read is None or self._task:
            return
        why = self.why.text().strip()
        if self._read.asks_why(self.bench.dossier) and not why:
            self.bench.refused.emit("It changes what a report was issued on: say why.")
            self.why.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        case, act = self.bench.case, self._read.act(why)
        self._start(lambda step: case.do(act, step), "Taking in…", self._on_taken)

    def leave(self) -> None:
        """Stop what runs, or leave the book as it is."""
        if self._task:
            self._task.cancel()
        else:
            self.left.emit()

    def _start(
        self, work: Callable[[Step], object], words: str, then: Callable[..., object]
    ) -> None:
        self._said.setText(words)
        self._bar.setRange(0, 0)
        self._task = start(work, self)
        self._task.progressed.connect(self._on_progress)
        self._task.succeeded.connect(then)
        self._task.failed.connect(self._on_failed)
        self._task.ended.connect(self._on_ended)
        self._show_state()

    def _on_progress(self, done: int, whole: int) -> None:
        self._bar.setRange(0, max(whole, 1))
        self._bar.setValue(done)

    def _on_read(self, read: "Intake") -> None:
        self._read = read
        self._said.setText(_summary(read))
        self.problems.show_lines(
            [_problem_line(one) for one in read.reading.problems], (3, 16, 8, 44)
        )
        self.changes.show_lines(_change_lines(read.changes), (12,))

    def _on_taken(self, _entry: object) -> None:
        self.bench.told.emit(f"{self._title.text().replace('Take in', 'Took in', 1)}.")
        self._read = self._reader = None
        self.why.clear()
        self.taken.emit()

    def _on_failed(self, wrong: Exception) -> None:
        if not isinstance(wrong, KnownError | OSError):
            raise wrong
        self._said.setText(f"✕ {wrong}")

    def _on_ended(self) -> None:
        self._task = None
        if self._said.text().endswith("…"):
            self._said.setText("Stopped; nothing was taken in.")
        self._show_state()
        self.enter()

    def enter(self) -> None:
        """Go to what comes next: take it in, or read it again."""
        ready = self.take_button.isEnabled()
        (self.take_button if ready else self._again).setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_state(self) -> None:
        busy, read = self._task is not None, self._read
        self._bar.setVisible(busy)
        self._leave.setText("Cancel" if busy else "Leave it")
        self._again.setEnabled(not busy)
        ready = read is not None and read.possible and not busy
        self.take_button.setEnabled(ready and not self.bench.case.read_only)
        self.problems.setVisible(read is not None and bool(read.reading.problems))
        self.changes.setVisible(read is not None)
        self.why.setVisible(ready and read is not None and read.asks_why(self.bench.dossier))

    def _lay_out(self) -> None:
        self._said.setWordWrap(True)
        self._bar.setMaximumWidth(step(self, 50))
        self._bar.setAccessibleName("Progress")
        foot = QHBoxLayout()
        for one in (self.take_button, self._again, self._leave):
            foot.addWidget(one)
        foot.addStretch()
        halves = QSplitter(Qt.Orientation.Vertical, self)
        halves.setChildrenCollapsible(False)
        for name, view in (("Problems", self.problems), ("Changes", self.changes)):
            part = QWidget(halves)
            inner = QVBoxLayout(part)
            inner.setContentsMargins(0, step(self), 0, 0)
            inner.addWidget(overline(name, part))
            inner.addWidget(view)
            halves.addWidget(part)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self, 2))
        whole.setSpacing(step(self))
        whole.addWidget(self._title)
        whole.addWidget(self._said)
        whole.addWidget(self._bar)
        whole.addWidget(halves, 1)
        whole.addWidget(self.why)
        whole.addLayout(foot)


def _summary(read: "Intake") -> str:
    """Return what was read in a sentence or two."""
    reading, changes = read.reading, read.changes
    hinders, remarks = len(reading.hindrances), len(reading.warnings)
    if hinders:
        word = "problem stands" if hinders == 1 else "problems stand"
        return (
            f"{hinders} {word} in the way. Put them right in the book and read it again; "
            "nothing is taken in before."
        )
    said = [
        f"{len(changes.to_add)} records are new",
        f"{len(changes.to_change)} are otherwise than in the case",
        f"{len(changes.unchanged)} are the same",
    ]
    tail = f" {remarks} things to know, which do not hinder." if remarks else ""
    if not changes:
        return "The case has all of this already; there is nothing to take in." + tail
    return f"{', '.join(said)}.{tail}"


def _problem_line(problem: Problem) -> Line:
    sign = "✕" if problem.hinders else "!"
    return Line((sign, problem.place, problem.cell, problem.wrong, problem.right), problem)


def _change_lines(changes: "Changes") -> list[Line]:
    """Return what would change: differences one by one, new records counted by type."""
    numbers: dict[type[Record], int] = {}
    for record in changes.added:
        numbers[type(record)] = numbers.get(type(record), 0) + 1
    lines = [Line(("changed", str(one)), one) for one in changes.changed]
    lines += [Line(("corrected", str(one)), one) for one in changes.corrections]
    lines += [Line(("new", kind.counted(number))) for kind, number in numbers.items()]
    lines += [Line(("kept", f"{one.edited}; the case keeps it")) for one in changes.edited]
    lines += [
        Line(("not in book", f"{type(one).title} {one.label}; it stays in the case"))
        for one in changes.absent
    ]
    lines += [
        Line(("withdrawn", f"{type(one).title} {one.label}; it stays withdrawn"))
        for one in changes.withdrawn
    ]
    return lines
