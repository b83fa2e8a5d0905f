"""Entering tests row by row: the grid, and beside it the stack or the scale of the method."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.entering import ENTERED
from workbench.desk.questions.chapters import plural
from workbench.records import NotUnderstoodError, PullOff, Quantity, Rating, Record
from workbench.ui.bench import Bench
from workbench.ui.entry.breaks import BreakEditor
from workbench.ui.entry.grid import EntryGrid
from workbench.ui.entry.scale import ScaleSketch
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, label, parted
from workbench.ui.theme import scheme_of, step


class EntryPage(Page):
    """The grid of one record type at a time."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Begin with pull-offs."""
        super().__init__(bench, parent)
        self.grid = EntryGrid(bench, self)
        self.breaks = BreakEditor(self)
        self.scale = ScaleSketch(self)
        self._kinds = QButtonGroup(self)
        self._said = label("", "quiet", self)
        self._words = label("", "quiet", self)
        self._beside = QWidget(self)
        self._save = button("Save", self.save, self, main=True, tip="Save the rows (Ctrl+Return)")
        self._lay_out()
        self.grid.entries.edited.connect(self._on_edited)
        self.grid.selectionModel().currentChanged.connect(lambda _now, _before: self._follow())
        self.breaks.changed.connect(self._on_breaks)
        self.scale.chosen.connect(self._on_rating)
        self.choose(PullOff)

    @property
    def kind(self) -> type[Record]:
        """The type that is entered."""
        return self.grid.entries.kind or PullOff

    def choose(self, kind: type[Record]) -> None:
        """Enter records of `kind`, beginning with the rows that were left."""
        self.grid.entries.alarm = scheme_of(self).alarm_colour
        self.grid.entries.show_rows(kind, self.bench.dossier, self.bench.drafts.rows_of(kind))
        self.grid.fit()
        for made in self._kinds.buttons():
            made.setChecked(made.text() == plural(kind))
        self.grid.setCurrentIndex(self.grid.entries.index(0, 1))
        self._follow()
        self._show_state()

    def fill(self) -> None:
        """Read the rows against the case as it is now."""
        entries = self.grid.entries
        entries.show_rows(self.kind, self.bench.dossier, entries.rows)
        self._follow()
        self._show_state()

    def enter(self) -> None:
        """Go to the grid."""
        self.grid.setFocus(Qt.FocusReason.OtherFocusReason)

    def save(self) -> None:
        """Add the rows that can be read, in one act; the others stay."""
        from workbench.desk.acts import Add

        ready = self.grid.entries.ready
        if not ready:
            self.bench.refused.emit("No row can be saved yet; the sign ■ says where to look.")
            return
        if self.bench.do(Add(ready)):
            self.grid.entries.drop_ready()
            self.bench.selection.light(record.source for record in ready)
            self.bench.told.emit(f"{type(ready[0]).counted(len(ready))} added.")

    def _on_edited(self) -> None:
        self.bench.drafts.keep_rows(self.kind, self.grid.entries.rows)
        self._follow()
        self._show_state()

    def _on_breaks(self, text: str) -> None:
        self.grid.entries.write(self.grid.currentIndex().row(), "breaks", text)

    def _on_rating(self, value: float) -> None:
        self.grid.entries.write(self.grid.currentIndex().row(), "rating", f"{value:g}")

    def _follow(self) -> None:
        """Show beside the grid what belongs to the current row."""
        from workbench.trade.methods import method

        entries, row = self.grid.entries, self.grid.currentIndex().row()
        dossier, place = self.bench.dossier, entries.text(row, "location")
        used = method(entries.text(row, "method"))
        self.breaks.setVisible(self.kind is PullOff)
        self.scale.setVisible(self.kind is Rating)
        if self.kind is PullOff:
            self.breaks.show_system(dossier, dossier.system_of(dossier.area_at(place)))
            self.breaks.show_text(entries.text(row, "breaks"))
        elif self.kind is Rating:
            code = entries.text(row, "method")
            self.scale.show_scale(code, _number(entries.text(row, "rating")))
        self._words.setText(_about(used))

    def _show_state(self) -> None:
        ready, troubles = self.grid.entries.ready, self.grid.entries.troubles
        said = [f"{len(ready)} ready"] if ready else []
        if troubles:
            row, name, words = troubles[0]
            said.append(f"✕ row {row + 1}, {name.replace('_', ' ')}: {words}")
        self._said.setText("; ".join(said) or "Type; Tab goes on, Return goes to the next row.")
        self._save.setText(f"Save {len(ready)}" if ready else "Save")
        self._save.setEnabled(bool(ready) and not self.bench.case.read_only)

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        head.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        head.setSpacing(step(self, 0.5))
        head.addWidget(label("Enter tests", "title", self))
        head.addSpacing(step(self))
        for kind in ENTERED:
            made = QToolButton(self)
            made.setText(plural(kind))
            made.setCheckable(True)
            made.setProperty("flat", True)
            made.clicked.connect(lambda _on=False, one=kind: self.choose(one))
            self._kinds.addButton(made)
            head.addWidget(made)
        head.addStretch()
        return head

    def _lay_out(self) -> None:
        self._said.setWordWrap(True)
        self._words.setWordWrap(True)
        inner = QVBoxLayout(self._beside)
        inner.setContentsMargins(step(self), step(self), step(self), step(self))
        inner.addWidget(self.breaks)
        inner.addWidget(self.scale)
        inner.addWidget(self._words)
        inner.addStretch()
        room = QScrollArea(self)
        room.setWidgetResizable(True)
        room.setFrameShape(QFrame.Shape.NoFrame)
        room.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        room.setWidget(self._beside)
        halves = parted(self, Qt.Orientation.Horizontal, (self.grid, room), grows=0, steps=(58, 38))
        foot = QHBoxLayout()
        foot.setSpacing(step(self))
        foot.setContentsMargins(step(self, 2), step(self), step(self), step(self))
        foot.addWidget(self._save)
        foot.addWidget(self._said, 1)
        whole = bare_column(self)
        whole.addLayout(self._head())
        whole.addWidget(halves, 1)
        whole.addLayout(foot)


def _number(text: str) -> float | None:
    try:
        return Quantity.read(text).value
    except NotUnderstoodError:
        return None


def _about(used: "object") -> str:
    """Return what a person should know of a method before using it, cautions last."""
    from workbench.trade.methods import Method

    if not isinstance(used, Method):
        return "Choose a method to see its scale, its limits and its cautions."
    said = [f"{used.number}, {used.title}. {used.tells}", f"It does not tell: {used.does_not_tell}"]
    said += [remark.words for remark in used.limits]
    said += [used.tests.words]
    said += [f"Caution: {words}" for words in used.cautions]
    return "\n".join(said)
