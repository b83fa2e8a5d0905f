"""The reasoning in words: each paragraph from the records, or in the investigator's own words."""

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QListView,
    QPlainTextEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.deciding import Decisions, UndecidedError
from workbench.records import EditedText
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, label, parted
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning.results import Paragraph, Reasoning
    from workbench.records import Source


class ProsePage(Page):
    """Candidates at the left, the paragraphs about the one that is chosen at the right."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the reasoning."""
        super().__init__(bench, parent)
        self.list = QListView(self)
        self._names = QStringListModel(self)
        self._room = QScrollArea(self)
        self._said = label("", "quiet", self)
        self._causes: tuple[str, ...] = ()
        self._reasoning: Reasoning | None = None
        self.paragraphs: list[ParagraphEdit] = []
        self.typed: dict[str, str] = bench.drafts.words("prose")
        self._lay_out()
        self.list.selectionModel().currentChanged.connect(lambda _a, _b: self._show())
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> "tuple[str, str, tuple[Source, ...]] | None":
        """The paragraph that has the focus, else the first."""
        focus = self.focusWidget()
        focused = (one for one in self.paragraphs if focus and one.isAncestorOf(focus))
        shown = next(focused, next(iter(self.paragraphs), None))
        if shown is None:
            return None
        held = shown.paragraph
        sources = dict.fromkeys(s for each in held.sentences for s in each.sources)
        return held.heading, held.text[:120], tuple(sources)

    def fill(self) -> None:
        """Show the paragraphs, once the candidates are weighed."""
        self._reasoning = found = self.bench.answers.ask(self.bench.causes)
        if found is None:
            self._said.setText("Weighing the candidates…")
            return
        titles = {one.cause: f"{one.place}  {one.title}" for one in found.candidates}
        said = tuple(dict.fromkeys(one.cause for one in found.paragraphs))
        kept = max(0, self.list.currentIndex().row())
        self._causes = said
        self._names.setStringList([titles.get(cause, "The whole case") for cause in said])
        self._said.setText("Each sentence rests on records (F4). Your own words take its place.")
        self.list.setCurrentIndex(self._names.index(min(kept, len(said) - 1), 0))
        self._show()

    def enter(self) -> None:
        """Go to the candidates."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def keep(self, paragraph: "Paragraph", text: str) -> None:
        """Put the person's words in the place of a paragraph."""
        bench = self.bench
        desk = Decisions(bench.dossier, bench.case.author, datetime.now(UTC))
        try:
            act = desk.text(paragraph, text)
        except UndecidedError as wrong:
            bench.refused.emit(str(wrong))
            return
        if bench.do(act):
            self.note(paragraph.name, "")

    def note(self, name: str, text: str) -> None:
        """Keep what is typed for a paragraph; nothing is what stands there already."""
        self.typed[name] = text
        if not text:
            del self.typed[name]
        self.bench.drafts.keep_words("prose", self.typed)

    def put_back(self, paragraph: "Paragraph") -> None:
        """Give a paragraph the words of the records again; the edit is withdrawn, not lost."""
        from workbench.desk.acts import Withdraw

        self.note(paragraph.name, "")
        held = self.bench.dossier.find(EditedText, paragraph.name)
        if held and not held.withdrawn:
            self.bench.do(Withdraw(held, "the words of the records hold again"))
        else:
            self._show()

    def _show(self) -> None:
        row = self.list.currentIndex().row()
        if self._reasoning is None or not 0 <= row < len(self._causes):
            return
        inner = QWidget(self._room)
        whole = QVBoxLayout(inner)
        whole.setContentsMargins(step(self, 2), step(self), step(self), step(self, 2))
        whole.setSpacing(step(self))
        said = self._reasoning.paragraphs_of(self._causes[row])
        self.paragraphs = [ParagraphEdit(one, self, inner) for one in said]
        for one in self.paragraphs:
            whole.addWidget(one)
        whole.addStretch()
        self._room.setWidget(inner)

    def _on_ready(self, question: object) -> None:
        if question is self.bench.causes:
            self.renew()

    def _lay_out(self) -> None:
        self.list.setModel(self._names)
        self.list.setAccessibleName("Candidates")
        self.list.setEditTriggers(QListView.EditTrigger.NoEditTriggers)
        self.list.setFrameShape(QListView.Shape.NoFrame)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._room.setWidgetResizable(True)
        self._room.setFrameShape(QFrame.Shape.NoFrame)
        halves = parted(
            self, Qt.Orientation.Horizontal, (self.list, self._room), grows=1, steps=(34, 62)
        )
        head = self.head("In words", self._said)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(halves, 1)


class ParagraphEdit(QWidget):
    """One paragraph to read and to put into other words."""

    def __init__(self, paragraph: "Paragraph", page: ProsePage, parent: QWidget) -> None:
        """Show `paragraph`."""
        super().__init__(parent)
        self.paragraph = paragraph
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.text = QPlainTextEdit(page.typed.get(paragraph.name, paragraph.text), self)
        self.text.setAccessibleName(paragraph.heading)
        self.text.setTabChangesFocus(True)
        self._page = page
        self._flags = label("", "wrong", self)
        self._flags.setWordWrap(True)
        self._keep = button("Keep my words", self._on_keep, self)
        self._back = button("The records' words", lambda: page.put_back(paragraph), self)
        self.text.textChanged.connect(self._on_changed)
        self.text.setReadOnly(page.bench.case.read_only)
        head = QHBoxLayout()
        head.setSpacing(step(self))
        head.addWidget(label(paragraph.heading, "heading", self))
        head.addWidget(label(self._state(), "wrong" if paragraph.stale else "quiet", self), 1)
        head.addWidget(self._back)
        head.addWidget(self._keep)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(step(self, 0.5))
        whole.addLayout(head)
        whole.addWidget(self.text)
        whole.addWidget(self._flags)
        self._on_changed()
        lines = len(paragraph.text) // 88 + 2
        self.text.setFixedHeight(min(lines, 12) * self.fontMetrics().lineSpacing() + step(self, 2))

    def _state(self) -> str:
        if self.paragraph.stale:
            return "! the records behind it changed since it was written"
        return f"in the words of {self.paragraph.edited_by}" if self.paragraph.edited_by else ""

    def _on_keep(self) -> None:
        self._page.keep(self.paragraph, self.text.toPlainText())

    def _on_changed(self) -> None:
        text, name = self.text.toPlainText(), self.paragraph.name
        changed = text.strip() != self.paragraph.text.strip()
        self._page.note(name, text if changed else "")
        writable = not self._page.bench.case.read_only
        self._keep.setVisible(changed and writable)
        self._back.setVisible((changed or bool(self.paragraph.edited_by)) and writable)
        self._flag()

    def _flag(self) -> None:
        """Say which words claim more than an opinion can, and which speak of persons."""
        from workbench.reasoning.wording import certainty_flags, party_flags

        text, dossier = self.text.toPlainText(), self._page.bench.dossier
        flags = (*certainty_flags(text), *party_flags(text, dossier))
        self._flags.setText("\n".join(f"! “{one.words}”: {one.why}" for one in flags))
        self._flags.setVisible(bool(flags))
