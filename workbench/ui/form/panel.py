"""The form beside the table: what it is of, what can be done with it, and why it is done."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from workbench.desk.questions import findings
from workbench.desk.questions.chapters import plural
from workbench.records import Record
from workbench.ui.bench import Bench
from workbench.ui.form.form import RecordForm
from workbench.ui.parts import bare_column, button, elided, label, tool
from workbench.ui.theme import step


class FormPanel(QWidget):
    """One record to read and to change.

    Attributes:
        asked: The person asks how this record is known.
        left: The person wants to go back to the table.
    """

    asked = Signal(object)
    left = Signal()

    def __init__(self, bench: Bench, kind: type[Record], parent: QWidget | None = None) -> None:
        """Make the form of `kind` for the case on `bench`."""
        super().__init__(parent)
        self._bench, self._kind = bench, kind
        self._withdrawing = False
        self._back = tool("‹ Table", "Back to the table (Esc)", self.left.emit, self)
        self._title = elided("heading", self)
        self._state = label("", "quiet", self)
        self._doubts = label("", "wrong", self)
        self.form = RecordForm(kind, self)
        self.why = QLineEdit(self)
        self._save = button("Save", self.save, self, main=True, tip="Save (Ctrl+Return)")
        self._leave = button("Discard", self.discard, self, tip="Put back what is saved")
        self._withdraw = button("Withdraw…", self.begin_withdrawing, self, tip="Withdraw (Delete)")
        self._known = button("How do you know?", self._ask, self, tip="Sources (F4)")
        self._lay_out()
        self.form.edited.connect(self._on_edited)
        self._show_state()

    @property
    def width_needed(self) -> int:
        """The width of its widest row of buttons."""
        known, other = self._known.sizeHint().width(), self._withdraw.sizeHint().width()
        return known + other + step(self, 4)

    def show_way_back(self, *, shown: bool) -> None:
        """Offer a way back to the table, where the form has taken its place."""
        self._back.setVisible(shown)

    def show_record(self, record: Record | None) -> None:
        """Show a record, or the form for a new one, with what was typed before."""
        self._withdrawing = False
        draft = self._bench.drafts.of(self._kind, record)
        self.form.show_record(record, self._bench.dossier, draft)
        self.why.clear()
        self._show_state()

    def save(self) -> None:
        """Save what is written, if it can be read."""
        if self._withdrawing:
            self._finish_withdrawing()
            return
        written, before = self.form.tried(), self.form.record
        if written is None:
            return
        from workbench.desk.acts import Add, Change

        why = self.why.text().strip()
        act = Change(written, why) if before else Add((written,), why)
        if self._bench.do(act):
            self._bench.drafts.keep(self._kind, before, {})
            self._bench.selection.light([written.source])
            self.show_record(self._bench.dossier.resolve(written.source) if before else None)
            if not before:
                self.form.focus_field()

    def discard(self) -> None:
        """Put back what is saved."""
        if not self._withdrawing:
            self._bench.drafts.keep(self._kind, self.form.record, {})
        self.show_record(self.form.record)

    def begin_withdrawing(self) -> None:
        """Ask why the record is to be withdrawn."""
        if self._kind.comes_about:
            self._bench.refused.emit(self._kind.comes_about)
        elif self.form.record:
            self._withdrawing = True
            self.why.clear()
            self._show_state()
            self.why.setFocus(Qt.FocusReason.OtherFocusReason)

    def _finish_withdrawing(self) -> None:
        from workbench.desk.acts import Withdraw

        record = self.form.record
        if record and self._bench.do(Withdraw(record, self.why.text())):
            self.show_record(None)

    def _ask(self) -> None:
        if self.form.record:
            self.asked.emit(self.form.record.source)

    def _on_edited(self, changes: dict[str, str]) -> None:
        self._bench.drafts.keep(self._kind, self.form.record, changes)
        self._show_state()

    def _show_state(self) -> None:
        record, changed = self.form.record, bool(self.form.changes)
        kind, shut = self._kind, self._bench.case.read_only
        locked = shut or bool(kind.comes_about) or bool(record and kind.ledger)
        left_open = kind.left_open if record and not shut else ()
        writes = not locked or bool(left_open)
        self._title.setText(f"{self._kind.title} {record.label}" if record else self._new_title())
        self._state.setText(self._words(record, changed=changed, locked=locked))
        self._doubts.setText(self._doubts_words(record))
        self._doubts.setVisible(bool(self._doubts.text()))
        self.form.lock(locked=locked or self._withdrawing, but=left_open)
        self._save.setText("Withdraw" if self._withdrawing else "Save")
        self._save.setVisible(writes and (changed or self._withdrawing or record is None))
        self._leave.setVisible(changed or self._withdrawing)
        self._leave.setText("Keep it" if self._withdrawing else "Discard")
        self._withdraw.setVisible(bool(record) and not (locked or changed or self._withdrawing))
        self._known.setVisible(bool(record) and not (changed or self._withdrawing))
        self.why.setVisible(self._withdrawing or (changed and record is not None))
        asked = "Why is it withdrawn?" if self._withdrawing else "Why is it changed?"
        self.why.setPlaceholderText(asked)
        self.why.setAccessibleName(asked)

    def _doubts_words(self, record: Record | None) -> str:
        """Return what is doubtful about a record and not answered; F8 answers it."""
        known = self._bench.answers.ask(findings.doubts) if record else None
        about = known.get(record.source, ()) if known and record else ()
        return "\n".join(f"! {one.words}" for one in about if one.is_open)

    def _new_title(self) -> str:
        name = f"{self._kind.title[:1].lower()}{self._kind.title[1:]}"
        return f"No {name}" if self._kind.comes_about else f"New {name}"

    def _words(self, record: Record | None, *, changed: bool, locked: bool) -> str:
        if record and self._kind.ledger:
            return "An entry of the ledger is not changed; add one that corrects it."
        if self._kind.comes_about and not self._bench.case.read_only:
            return "Not saved yet; kept as typed." if changed else self._kind.comes_about
        if locked:
            return f"Read only. {plural(self._kind)} cannot be changed now."
        if self._withdrawing:
            return "A withdrawn record keeps its name and counts no longer."
        return "Not saved yet; kept as typed." if changed else ""

    def _lay_out(self) -> None:
        self.form.setAccessibleName(f"Form: {self._kind.title}")
        self.why.setAccessibleName("Why it is changed")
        head = QVBoxLayout()
        head.setContentsMargins(step(self), step(self, 0.75), step(self), step(self, 0.5))
        head.setSpacing(0)
        line = QHBoxLayout()
        line.addWidget(self._back)
        line.addWidget(self._title, 1)
        head.addLayout(line)
        head.addWidget(self._state)
        head.addWidget(self._doubts)
        self._doubts.setWordWrap(True)
        self._state.setWordWrap(True)
        self._state.setMinimumHeight(self._state.fontMetrics().lineSpacing())
        foot = QVBoxLayout()
        foot.setContentsMargins(step(self), step(self, 0.5), step(self), step(self))
        foot.setSpacing(step(self, 0.5))
        foot.addWidget(self.why)
        foot.addLayout(_row(self._save, self._leave, self._known, self._withdraw))
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(self.form, 1)
        whole.addLayout(foot)


def _row(*buttons: QPushButton | QLabel) -> QHBoxLayout:
    row = QHBoxLayout()
    for one in buttons:
        row.addWidget(one)
    row.addStretch()
    return row
