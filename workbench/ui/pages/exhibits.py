"""The exhibits: their register and order, and the book made of them."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDropEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.records import Exhibit, KnownError, Source
from workbench.records.reporting import ExhibitKind
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.flow import flow
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label
from workbench.ui.receiving.fields import Fields
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step
from workbench.ui.work_line import WorkLine

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.ui.tasks import Step

_FIELDS = (
    ("of", "Photo, figure … and ref", ()),
    ("kind", "Offered as", tuple(ExhibitKind)),
    ("title", "Title", ()),
    ("legend", "Legend, for an aid", ()),
)


class OrderedLines(LinesView):
    """Lines that a person puts in order by dragging.

    Attributes:
        dragged: A line was dropped: its row, and the row it shall have.
    """

    dragged = Signal(int, int)

    def __init__(self, title: str, headings: tuple[str, ...], parent: QWidget) -> None:
        """Let lines be dragged."""
        super().__init__(title, headings, parent)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setDragDropOverwriteMode(False)

    def dropEvent(self, event: QDropEvent) -> None:
        """Tell where the line was dropped; the list itself changes with the case."""
        row = self.currentIndex().row()
        below = self.indexAt(event.position().toPoint())
        to = below.row() if below.isValid() else self.lines.rowCount() - 1
        event.setDropAction(Qt.DropAction.IgnoreAction)
        event.accept()
        if row >= 0 and to != row:
            self.dragged.emit(row, to)


class ExhibitsPage(Page):
    """Numbers once given are kept; the order is the person's."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show the register."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self.list = OrderedLines(
            "Exhibits", ("no.", "offered as", "title", "shows", "pages", "state"), self
        )
        self.fields = Fields(_FIELDS, lambda: None, self, columns=2)
        self.why = QLineEdit(self)
        self.why.setPlaceholderText("why it is withdrawn; the register prints it")
        self.why.setAccessibleName("Why it is withdrawn")
        self.work = WorkLine(self)
        self._exhibits: tuple[Exhibit, ...] = ()
        self._lay_out()
        self.list.dragged.connect(self.put_at)
        for keys, by in (("Alt+Up", -1), ("Alt+Down", 1)):
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(lambda by=by: self._shift(by))
        self.work.told.connect(lambda words, _wrong: bench.told.emit(words))

    @property
    def chosen(self) -> Exhibit | None:
        """The exhibit that is chosen."""
        row = self.list.currentIndex().row()
        return self._exhibits[row] if 0 <= row < len(self._exhibits) else None

    @property
    def current(self) -> Source | None:
        """The exhibit that is chosen, as a source."""
        return self.chosen.source if self.chosen else None

    def fill(self) -> None:
        """Show the register in its order, withdrawn numbers too."""
        held = self.bench.dossier.all(Exhibit, withdrawn=True)
        self._exhibits = tuple(sorted(held, key=lambda one: (bool(one.withdrawn), one.order)))
        kept = max(self.list.currentIndex().row(), 0)
        lines = [_line(one) for one in self._exhibits]
        self.list.show_lines(lines, (8, 16, 30, 26, 12, 22))
        if lines:
            self.list.setCurrentIndex(self.list.lines.index(min(kept, len(lines) - 1), 0))

    def enter(self) -> None:
        """Go to the register."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def add(self) -> None:
        """Add what the fields name under the next number."""
        from workbench.desk.exhibiting import add_exhibit

        text = self.fields.text
        if self._tried(
            lambda: add_exhibit(
                self.bench.case,
                text("of"),
                kind=text("kind"),
                title=text("title"),
                legend=text("legend"),
            )
        ):
            self.fields.clear()

    def withdraw(self) -> None:
        """Withdraw the chosen exhibit; its number is not given again."""
        from workbench.desk.exhibiting import withdraw_exhibit

        chosen = self.chosen
        if chosen and self._tried(
            lambda: withdraw_exhibit(self.bench.case, chosen.ref, self.why.text())
        ):
            self.why.clear()

    def put_at(self, row: int, to: int) -> None:
        """Put the exhibit of `row` in the place `to`, both counted from 0."""
        from workbench.desk.exhibiting import move_exhibit

        if not (0 <= row < len(self._exhibits) and 0 <= to < len(self._exhibits)):
            return
        ref = self._exhibits[row].ref
        if self._tried(lambda: move_exhibit(self.bench.case, ref, to + 1)):
            self.list.setCurrentIndex(self.list.lines.index(to, 0))

    def number(self) -> None:
        """Give page numbers to the exhibits that have none."""
        from workbench.desk.exhibiting import number_pages

        prefix = self.bench.dossier.entry("reference") or "X"
        self._tried(lambda: number_pages(self.bench.case, f"{prefix}-"))

    def ask_book(self) -> None:
        """Ask where the exhibit book goes."""
        name = self.bench.case.folder.parent / "exhibits.docx"
        self.ask.new_file(self, "Exhibit book", "Word documents (*.docx)", name, self.write_book)

    def write_book(self, path: Path) -> None:
        """Write the exhibit book to `path`."""
        case = self.bench.case

        def work(step: "Step") -> tuple[Path, Path | None]:
            from workbench.desk.exhibiting import write_exhibit_book

            return write_exhibit_book(case, path, step)

        self.work.begin(
            "Writing the exhibit book",
            work,
            lambda done: self.bench.told.emit(f"{done[0]} is written."),
        )

    def _on_written(self, done: tuple[Path, Path | None]) -> None:
        self.bench.told.emit(f"{done[0]} is written.")

    def ask_single(self) -> None:
        """Ask where the chosen exhibit goes as a page of its own."""
        if self.chosen:
            name = self.bench.case.folder.parent / f"exhibit-{self.chosen.ref}.png"
            self.ask.new_file(
                self, "Exhibit", "Pictures (*.png);;PDF (*.pdf)", name, self.write_one
            )

    def write_one(self, path: Path) -> None:
        """Write the chosen exhibit to `path`, PNG or PDF."""
        from workbench.desk.exhibiting import write_single_exhibit

        chosen = self.chosen
        if chosen and self._tried(lambda: write_single_exhibit(self.bench.case, chosen.ref, path)):
            self.bench.told.emit(f"{path} is written.")

    # -- inside

    def _shift(self, by: int) -> None:
        row = self.list.currentIndex().row()
        self.put_at(row, row + by)

    def _tried(self, doing: "Callable[[], object]") -> bool:
        try:
            doing()
        except KnownError as wrong:
            self.bench.refused.emit(str(wrong))
            return False
        return True

    def _lay_out(self) -> None:
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self))
        whole.setSpacing(step(self))
        title = label("Exhibits", "title", self)
        hint = label("drag them, or Alt+Up and Alt+Down", "quiet", self)
        acts = (
            ("Number the pages", self.number), ("This one…", self.ask_single),
            ("Exhibit book…", self.ask_book),
        )  # fmt: skip
        buttons = [button(name, act, self) for name, act in acts]
        head = flow(step(self), (title, hint), (self.work, *buttons))
        whole.addLayout(head)
        whole.addWidget(self.list, 1)
        whole.addWidget(self.fields)
        end = QHBoxLayout()
        end.addWidget(button("Add the exhibit", self.add, self, main=True))
        end.addWidget(self.why, 1)
        end.addWidget(button("Withdraw", self.withdraw, self))
        whole.addLayout(end)


def _line(one: Exhibit) -> Line:
    pages = "–".join(dict.fromkeys(filter(None, (one.first_page, one.last_page)))) or "–"
    state = f"withdrawn: {one.withdrawn}" if one.withdrawn else str(one.status)
    kind = str(one.kind).replace("_", " ")
    return Line((one.ref, kind, one.name, one.of, pages, state), one)
