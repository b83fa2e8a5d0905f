"""Comparisons: what differs between failing, non-failing and control, by how much, by chance?"""

from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from workbench.analysis.comparison.words import chance, in_brief, sides, told
from workbench.desk.questions.comparing import comparisons
from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, label, parted
from workbench.ui.reading import Reading, heading, links, paragraph
from workbench.ui.table.lines import Line, LinesView

if TYPE_CHECKING:
    from workbench.analysis.comparison.results import Comparison

_NONE = "Nothing was measured on both failing and other areas yet."


class ComparisonsPage(Page):
    """The comparisons at the left, all that is said of the one chosen at the right.

    Attributes:
        asked: The person asks how a record is known.
    """

    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Compare nothing yet."""
        super().__init__(bench, parent)
        self._said = label("", "quiet", self)
        self.list = LinesView(
            "Comparisons", ("what", "between", "effect", "p corrected", "by chance?"), self
        )
        self.words = Reading("What a comparison says", self)
        self._lay_out()
        self.list.selectionModel().currentRowChanged.connect(lambda _now, _before: self._on_row())
        self.words.asked.connect(self.asked)
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The comparison that is chosen."""
        one = self._chosen()
        if one is None:
            return None
        return f"{one.quantity}: {sides(one)}", " ".join(told(one, self.bench.showing)), one.sources

    def fill(self) -> None:
        """Show the comparisons, once they are made."""
        found = self.bench.answers.ask(comparisons)
        if found is None:
            self._said.setText("Comparing…")
            return
        kept = max(self.list.currentIndex().row(), 0)
        lines = [self._line(one) for one in found]
        self.list.show_lines(lines, (30, 20, 24, 10, 26))
        self._said.setText(f"{len(found)} comparisons" if found else _NONE)
        if lines:
            self.list.setCurrentIndex(self.list.lines.index(min(kept, len(lines) - 1), 0))
        self._on_row()

    def enter(self) -> None:
        """Go to the comparisons."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _line(self, one: "Comparison") -> Line:
        shown, verdict = in_brief(one, self.bench.showing)
        return Line((one.quantity, sides(one), shown, chance(one.p_corrected), verdict), one)

    def _chosen(self) -> "Comparison | None":
        from workbench.analysis.comparison.results import Comparison

        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Comparison) else None

    def _on_row(self) -> None:
        one = self._chosen()
        if one is None:
            self.words.show_paragraphs(())
            return
        said = [paragraph(words) for words in told(one, self.bench.showing)]
        remarks = [paragraph(words, "quiet") for words in one.remarks]
        behind = [f"<p>{links(one.sources)}</p>"] if one.sources else []
        named = f"<p><b>{escape(sides(one))}</b></p>"
        self.words.show_paragraphs([heading(one.quantity), named, *said, *remarks, *behind])
        if self.isVisible():
            self.bench.selection.light(one.sources)

    def _on_ready(self, question: object) -> None:
        if question is comparisons:
            self.renew()

    def _lay_out(self) -> None:
        head = self.head("Comparisons", self._said)
        halves = parted(
            self, Qt.Orientation.Vertical, (self.list, self.words), grows=0, steps=(56, 26)
        )
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(halves, 1)
