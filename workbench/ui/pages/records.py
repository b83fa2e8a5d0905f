"""The page of one record type: its table, narrowed by focus and filter, and the form beside it."""

from collections.abc import Mapping

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QLineEdit, QSplitter, QWidget

from workbench.desk.questions import findings
from workbench.desk.questions.chapters import plural
from workbench.desk.questions.tables import TableColumn, columns_of
from workbench.records import PullOff, Record, Source
from workbench.ui.bench import Bench
from workbench.ui.form.panel import FormPanel
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, label
from workbench.ui.table.view import RecordView
from workbench.ui.theme import step

_PAUSE_MS = 120
"""How long typing in the filter rests before the rows follow."""

_FORM_AFTER_MS = 20
"""The first form follows the table: the rows are there at once."""
_NARROW = 72
"""Width in steps below which table and form do not stand side by side."""
_TABLE = 30
"""Least width of the table in steps."""


class RecordsPage(Page):
    """All records of one type.

    Attributes:
        asked: The person asks how a record is known.
        form_share: Part of the width that the form takes until a person divides it otherwise.
    """

    asked = Signal(object)
    form_share = 0.36

    def __init__(self, bench: Bench, kind: type[Record], parent: QWidget | None = None) -> None:
        """Make the page of `kind`."""
        super().__init__(bench, parent)
        self.kind = kind
        self.filter = QLineEdit(self)
        self._add = button("Add", self.add, self, tip="Add (Insert)")
        self.table = RecordView(plural(kind), self)
        self.form = FormPanel(bench, kind, self)
        self._count = label("", "quiet", self)
        self._columns: tuple[TableColumn, ...] = ()
        self._shown: dict[str, str] = {}
        self._form_asked = False
        self._halves = QSplitter(Qt.Orientation.Horizontal, self)
        self._divided = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._first = QTimer(self)
        self._first.setSingleShot(True)
        self._first.setInterval(_FORM_AFTER_MS)
        self._first.timeout.connect(self._fill_form)
        self._lay_out()
        self._pause.timeout.connect(self._narrow)
        self.filter.textChanged.connect(lambda _text: self._pause.start())
        self.table.chosen.connect(self._on_chosen)
        self.table.opened.connect(lambda _record: self.open_form())
        self.form.left.connect(self.close_form)
        self.form.asked.connect(self.asked)
        bench.selection.focused.connect(self._on_focused)
        bench.selection.lit.connect(self._on_lit)
        bench.answers.ready.connect(self._on_ready)

    @property
    def width_needed(self) -> int:
        """The width of the table; where the form has no room, it takes its place."""
        return step(self, _TABLE)

    @property
    def tab_stops(self) -> tuple[QWidget, ...]:
        """What narrows the table, the table, the form."""
        return self.filter, self._add, self.table, self.form

    @property
    def current(self) -> Source | None:
        """The record in the form."""
        record = self.form.form.record
        return record.source if record else None

    def fill(self) -> None:
        """Show the records as they are now."""
        bench = self.bench
        stresses = bench.answers.ask(findings.stresses) if self.kind is PullOff else None
        doubts = bench.answers.ask(findings.doubts)
        self._shown.clear()
        self._columns = columns_of(bench.dossier, self.kind, bench.showing, doubts, stresses)
        self._narrow()
        if self.form.form.record is None and not self._form_asked:
            self._first.start()
        else:
            self._fill_form()

    def _fill_form(self) -> None:
        """Show in the form what was there, as it is now; at first the first row."""
        held = self.form.form.record or self.table.records.record_at(0)
        found = self.bench.dossier.with_id(self.kind, held.id) if held else None
        self.form.show_record(found if found and not found.withdrawn else None)

    def show_source(self, source: Source) -> None:
        """Choose the record that `source` names, and show it even where a filter hid it."""
        record = self.bench.dossier.resolve(source)
        if record is None:
            return
        if self.table.records.row_of(record.id) is None:
            self.filter.clear()
            self._narrow()
        self._first.stop()
        self.table.light([record.id])
        self.form.show_record(record)

    def enter(self) -> None:
        """Go to the table."""
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def add(self) -> None:
        """Begin a new record, or say how one comes about where nobody writes it."""
        if self.kind.comes_about:
            self.bench.refused.emit(self.kind.comes_about)
            return
        self._first.stop()
        self.table.clearSelection()
        self.form.show_record(None)
        self.open_form()

    def write(self, texts: Mapping[str, str]) -> None:
        """Write into the form of the one record that is chosen, else into that of a new one."""
        chosen = self.table.chosen_records()
        self._first.stop()
        self.form.show_record(chosen[0] if len(chosen) == 1 else None)
        self.form.form.write(texts)
        self.open_form()

    def open_form(self) -> None:
        """Go to the form; where there is no room beside the table, it takes the table's."""
        self._form_asked = True
        self._arrange()
        self.form.form.focus_field()

    def close_form(self) -> None:
        """Go back to the table."""
        self._form_asked = False
        self._arrange()
        self.enter()

    def showEvent(self, event: QShowEvent) -> None:
        """Choose what was lit elsewhere while the page was not seen."""
        super().showEvent(event)
        self._on_lit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the form beside the table, or in its place where there is no room."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        narrow = self.width() < step(self, _NARROW)
        self.form.show_way_back(shown=narrow)
        self.form.setVisible(not narrow or self._form_asked)
        self.table.setVisible(not narrow or not self._form_asked)
        if not (narrow or self._divided):
            form = max(round(self.width() * self.form_share), self.form.minimumWidth())
            self._halves.setSizes([self.width() - form, form])

    def _on_divided(self) -> None:
        self._divided = True

    def save(self) -> None:
        """Save the form."""
        self.form.save()

    def withdraw(self) -> None:
        """Ask why the record is to be withdrawn."""
        self._form_asked = True
        self._arrange()
        self.form.begin_withdrawing()

    def go_to_filter(self) -> None:
        """Go to the filter."""
        self.filter.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.filter.selectAll()

    def _narrow(self) -> None:
        """Show those records that belong to the focus and say what the filter asks for."""
        everything = self.bench.dossier.all(self.kind)
        focus, index = self.bench.selection.focus, self.bench.index
        words, search = self.filter.text(), self.bench.search
        shown = [
            record
            for record in everything
            if index.takes(focus, record)
            and (not words or search.matches(record, words, self._shown_of(record)))
        ]
        self.table.show_records(self._columns, shown, self._empty_words(len(everything)))
        number = len(everything)
        same = len(shown) == number
        self._count.setText(f"{number}" if same else f"{len(shown)} of {number}")
        self._on_lit()

    def _shown_of(self, record: Record) -> str:
        """Return what the table says of a record and the record does not: area, condition, …."""
        if record.id not in self._shown:
            computed = (one for one in self._columns if not one.field or one.named)
            self._shown[record.id] = " ".join(one.text(record) for one in computed)
        return self._shown[record.id]

    def _on_ready(self, question: object) -> None:
        mine = question is findings.stresses and self.kind is PullOff
        if mine or question is findings.doubts:
            self.renew()

    def _empty_words(self, number: int) -> str:
        name = plural(self.kind).lower()
        if not number and self.kind.comes_about:
            return f"No {name} yet. {self.kind.comes_about}"
        if not number:
            return f"No {name} yet. Insert adds one; pasted rows of a spreadsheet are read."
        return f"None of the {number} {name} belongs to what is shown. Esc shows everything."

    def _on_focused(self) -> None:
        if self.isVisible():
            self._narrow()
        else:
            self._stale = True

    def _on_lit(self) -> None:
        if not self.isVisible():
            return
        found = (self.bench.dossier.resolve(source) for source in self.bench.selection.sources)
        lit = [record for record in found if isinstance(record, self.kind)]
        here = {record.id for record in self.table.chosen_records()}
        if {record.id for record in lit} != here:
            self.table.light([record.id for record in lit])
            if len(lit) == 1:
                self._first.stop()
                self.form.show_record(lit[0])

    def _on_chosen(self, records: tuple[Record, ...]) -> None:
        self.bench.selection.light(record.source for record in records)
        self._first.stop()
        if records:
            self.form.show_record(records[0])

    def _lay_out(self) -> None:
        name = plural(self.kind)
        self.filter.setPlaceholderText("Filter")
        self.filter.setAccessibleName(f"Filter the {name.lower()}")
        self.filter.setClearButtonEnabled(True)
        self.filter.setMaximumWidth(step(self, 22))
        head = self.head(name, self._count, right=(self.filter, self._add))
        self._add.setVisible(not self.kind.comes_about)
        halves = self._halves
        halves.setChildrenCollapsible(False)
        halves.setHandleWidth(1)
        halves.addWidget(self.table)
        halves.addWidget(self.form)
        halves.setStretchFactor(0, 1)
        halves.splitterMoved.connect(lambda _at, _which: self._on_divided())
        self.form.setMinimumWidth(max(step(self, 30), self.form.width_needed))
        self.table.setMinimumWidth(step(self, _TABLE))
        self.table.setFrameShape(RecordView.Shape.NoFrame)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(halves, 1)
