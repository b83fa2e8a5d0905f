"""What was done: every act in the journal, the last one first, each as a sentence."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.records import BY_NOUN, Source
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, label
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step


class HistoryPage(Page):
    """The journal to read, and the last acts to take back."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(bench, parent)
        self._head = label("", "quiet", self)
        self._head.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.list = LinesView("What was done", ("nr", "when", "who", "what", "why"), self)
        self.undo = button("Undo", bench.undo, self, tip="Take the last act back (Ctrl+Z)")
        self.redo = button("Redo", bench.redo, self, tip="Do it again (Ctrl+Shift+Z)")
        head = self.head("What was done", self._head)
        foot = QHBoxLayout()
        foot.setSpacing(step(self))
        foot.setContentsMargins(step(self, 2), step(self), step(self), step(self))
        foot.addWidget(self.undo)
        foot.addWidget(self.redo)
        foot.addStretch()
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(self.list, 1)
        whole.addLayout(foot)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The act that is chosen, and the records that it touched."""
        line = self.list.lines.line_at(self.list.currentIndex().row())
        if line is None or not isinstance(line.behind, int):
            return None
        act = self.bench.case.journal()[line.behind]
        touched = (
            self.bench.dossier.with_id(BY_NOUN[one.noun], one.id)
            for one in act.changes
            if one.noun in BY_NOUN
        )
        words = f"{act.recorded_at.replace('T', ' ')[:16]}, {act.who}"
        return act.what, words, tuple(record.source for record in touched if record)

    def fill(self) -> None:
        """Show the journal as it is now."""
        case = self.bench.case
        journal = case.journal()
        lines = [
            Line(
                (
                    str(number), one.recorded_at.replace("T", " ")[:16], one.who,
                    f"{one.what[:1].upper()}{one.what[1:]}", one.why,
                ),
                number - 1,
            )
            for number, one in enumerate(journal, 1)
        ]  # fmt: skip
        self.list.show_lines(lines[::-1], (5, 15, 12, 42, 24))
        self.list.setCurrentIndex(self.list.lines.index(0, 0))
        head = case.heads.journal
        self._head.setText(f"{head.count} acts; the chain ends in {head.hash[:16]}…")
        for made, word, sentences in (
            (self.undo, "Undo", case.undo_list),
            (self.redo, "Redo", case.redo_list),
        ):
            made.setText(f"{word}: {_short(sentences[0])}" if sentences else word)
            made.setEnabled(bool(sentences) and not case.read_only)

    def enter(self) -> None:
        """Go to the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)


def _short(sentence: str) -> str:
    return sentence if len(sentence) <= 60 else f"{sentence[:59]}…"
