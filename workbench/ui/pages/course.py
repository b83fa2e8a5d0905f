"""The course of the case: what happened when, from the first document to the last signature."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QWidget

from workbench.desk.questions.course import Moment, course_of
from workbench.records import Source
from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, label
from workbench.ui.table.lines import Line, LinesView


class CoursePage(Page):
    """Everything that has a date; what is chosen is lit, and Return opens it.

    Attributes:
        visited: The person wants to see this record on its page.
    """

    visited = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait until what happened is put in order."""
        super().__init__(bench, parent)
        self._count = label("", "quiet", self)
        self.chapters = QComboBox(self)
        self.list = LinesView("Course of the case", ("when", "what", "which", "what it says"), self)
        self._lay_out()
        self.list.opened.connect(self._open)
        self.list.selectionModel().currentRowChanged.connect(lambda _now, _before: self._on_row())
        self.chapters.activated.connect(lambda _at: self.fill())
        bench.answers.ready.connect(self._on_ready)
        bench.selection.focused.connect(self.renew)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The moment that is chosen."""
        one = self._moment()
        return (f"{one.when}: {one.what}", one.says or one.about, one.sources) if one else None

    def fill(self) -> None:
        """Show what happened, once it is put in order."""
        found = self.bench.answers.ask(course_of)
        if found is None:
            self._count.setText("Putting in order…")
            return
        chapter, kept = self.chapters.currentData(), max(self.list.currentIndex().row(), 0)
        shown = [one for one in found if chapter in (None, one.chapter) and self._takes(one)]
        self._count.setText(f"{len(shown)}" if len(shown) == len(found) else
                            f"{len(shown)} of {len(found)}")  # fmt: skip
        self.list.show_lines(
            [Line((one.when, one.what, one.about, one.says), one) for one in shown],
            (17, 21, 18, 34),
        )
        if shown:
            self.list.setCurrentIndex(self.list.lines.index(min(kept, len(shown) - 1), 0))

    def enter(self) -> None:
        """Go to the list."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _takes(self, one: Moment) -> bool:
        """Return whether a moment belongs to what is looked at."""
        dossier, index, focus = self.bench.dossier, self.bench.index, self.bench.selection.focus
        if focus.everything:
            return True
        records = (dossier.resolve(source) for source in one.sources)
        return any(record is not None and index.takes(focus, record) for record in records)

    def _moment(self) -> Moment | None:
        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Moment) else None

    def _on_row(self) -> None:
        one = self._moment()
        if one and self.isVisible():
            self.bench.selection.light(one.sources)

    def _open(self, one: object) -> None:
        if isinstance(one, Moment):
            self.visited.emit(one.sources[0])

    def _on_ready(self, question: object) -> None:
        if question is course_of:
            self.renew()

    def _lay_out(self) -> None:
        self.chapters.setAccessibleName("Only what is of this chapter")
        self.chapters.addItem("all chapters", None)
        for chapter in Chapter:
            self.chapters.addItem(str(chapter), chapter)
        whole = bare_column(self)
        whole.addLayout(self.head("Course of the case", self._count, right=(self.chapters,)))
        whole.addWidget(self.list, 1)
