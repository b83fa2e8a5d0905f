"""The text of the report: paragraphs as drafted or edited, live numbers, what is stale."""

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QPlainTextEdit,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from workbench.records import EditedText, Source
from workbench.ui.bench import Bench
from workbench.ui.flow import flow
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step
from workbench.ui.work_line import WorkLine

if TYPE_CHECKING:
    from workbench.report.blocks import Paragraph, Section
    from workbench.report.draft import Draft
    from workbench.ui.tasks import Step

_PLACE = "text of the report"
_HELP = (
    "{pull_off P-12: stress} is a number that follows its record, {see figure plan} a cross "
    "reference, {note: …} a footnote."
)


class ReportTextPage(Page):
    """Sections and their paragraphs above, the one that is chosen below, to be edited."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Draft nothing yet."""
        super().__init__(bench, parent)
        self.sections = QComboBox(self)
        self.sections.setAccessibleName("Section")
        self.list = LinesView("Paragraphs", ("", "paragraph", "says", "by"), self)
        self.text = QPlainTextEdit(self)
        self.text.textChanged.connect(self._on_typed)
        self._shown = ""
        self.text.setAccessibleName("Text of the paragraph")
        self.stale = label("", "wrong", self)
        self.work = WorkLine(self)
        self._save = button("Keep these words", self.save, self, main=True)
        self._back = button("Back to the draft…", self.put_back, self)
        self._draft: Draft | None = None
        self._drafted: tuple[Section, ...] = ()
        self._lay_out()
        self.sections.activated.connect(lambda _at: self._show_section())
        self.list.selectionModel().currentRowChanged.connect(self._show_paragraph)
        self.work.told.connect(lambda words, _wrong: bench.refused.emit(words))

    @property
    def chosen(self) -> "Paragraph | None":
        """The paragraph that is chosen."""
        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line else None  # type: ignore[return-value]  # put there below

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """What the chosen paragraph rests on."""
        block = self.chosen
        return (block.name, self.text.toPlainText(), block.sources) if block else None

    def fill(self) -> None:
        """Draft the report anew, beside the screen."""
        case = self.bench.case

        def work(_step: "Step") -> "tuple[Draft, tuple[Section, ...]]":
            from workbench.desk.reporting import Wish, draft_of
            from workbench.report.writing import sections_of

            draft = draft_of(case, Wish(form="full"))
            return draft, sections_of(draft)

        self.work.begin("Drafting the report", work, self._on_drafted)

    def enter(self) -> None:
        """Go to the paragraphs."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def save(self) -> None:
        """Put the words into the place of the draft; numbers in braces stay live."""
        from workbench.desk.acts import Add, Change
        from workbench.report.editing import new_edit

        block, draft = self.chosen, self._draft
        if block is None or draft is None:
            return
        edit = new_edit(draft, block, self.text.toPlainText().strip(), self.bench.case.author)
        held = self.bench.dossier.find(EditedText, edit.paragraph)
        act = Change(replace(edit, id=held.id)) if held else Add((edit,))
        self._forget(block.name)
        if not self.bench.do(act):
            self._on_typed()

    def _on_typed(self) -> None:
        """Keep what is typed and not saved, paragraph by paragraph."""
        block, text = self.chosen, self.text.toPlainText()
        if block:
            words = self.bench.drafts.words(_PLACE)
            words[block.name] = "" if text.strip() == self._shown.strip() else text
            self.bench.drafts.keep_words(_PLACE, words)

    def _forget(self, name: str) -> None:
        self.bench.drafts.keep_words(_PLACE, self.bench.drafts.words(_PLACE) | {name: ""})

    def put_back(self) -> None:
        """Let the draft stand again in the place of the edit, which is kept as withdrawn."""
        from workbench.desk.acts import Withdraw
        from workbench.report.editing import PREFIX

        block = self.chosen
        if block and self.bench.drafts.words(_PLACE).get(block.name):
            self._forget(block.name)
            self._show_paragraph()
            return
        held = self.bench.dossier.find(EditedText, f"{PREFIX}{block.name}") if block else None
        if held is None or held.withdrawn:
            self.bench.refused.emit("This paragraph stands as drafted.")
            return
        self.bench.do(Withdraw(held, "the draft stands again"))

    # -- inside

    def _on_drafted(self, found: "tuple[Draft, tuple[Section, ...]]") -> None:
        self._draft, self._drafted = found
        kept = max(self.sections.currentIndex(), 0)
        self.sections.clear()
        self.sections.addItems([section.title for section in self._drafted])
        self.sections.setCurrentIndex(min(kept, len(self._drafted) - 1))
        self._show_section()

    def _show_section(self) -> None:
        from workbench.report.blocks import Paragraph
        from workbench.report.text import plain

        at = self.sections.currentIndex()
        blocks = self._drafted[at].blocks if 0 <= at < len(self._drafted) else ()
        kept = max(self.list.currentIndex().row(), 0)
        lines = [
            Line(("!" if one.stale else "", one.name, plain(one.text), one.edited_by or "draft"),
                 one)
            for one in blocks
            if isinstance(one, Paragraph) and one.name
        ]  # fmt: skip
        self.list.show_lines(lines, (3, 22, 60, 12))
        if lines:
            self.list.setCurrentIndex(self.list.lines.index(min(kept, len(lines) - 1), 0))
        self._show_paragraph()

    def _show_paragraph(self) -> None:
        from workbench.report.text import written

        block = self.chosen
        self._shown = written(block.text) if block else ""
        typed = self.bench.drafts.words(_PLACE).get(block.name, "") if block else ""
        self.text.setPlainText(typed or self._shown)
        told = "! not kept yet; what is typed stays here" if typed else block.stale if block else ""
        self.stale.setText(told)
        self.stale.setVisible(bool(told))
        for widget in (self.text, self._save, self._back):
            widget.setEnabled(block is not None and not self.bench.case.read_only)

    def _lay_out(self) -> None:
        self.stale.setWordWrap(True)
        note = label(_HELP, "quiet", self)
        note.setWordWrap(True)
        short = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        self.sections.setSizeAdjustPolicy(short)
        self.sections.setMinimumContentsLength(24)
        title = label("Text of the report", "title", self)
        head = flow(step(self), (title, self.sections), (self.work,))
        below = QWidget(self)
        edit = QVBoxLayout(below)
        edit.setContentsMargins(0, 0, 0, 0)
        edit.addWidget(self.stale)
        edit.addWidget(self.text, 1)
        edit.addWidget(note)
        buttons = QHBoxLayout()
        buttons.addWidget(self._save)
        buttons.addWidget(self._back)
        buttons.addStretch()
        edit.addLayout(buttons)
        halves = QSplitter(Qt.Orientation.Vertical, self)
        halves.addWidget(self.list)
        halves.addWidget(below)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self))
        whole.setSpacing(step(self))
        whole.addLayout(head)
        whole.addWidget(halves, 1)
