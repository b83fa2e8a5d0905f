"""The form of one record: read while it is written, told in words what is wrong, never emptied."""

from collections.abc import Collection, Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QScrollArea, QWidget

from workbench.desk.entry import Typed, read_record, texts_of
from workbench.records import Dossier, Fault, FieldInfo, Record, fields_of
from workbench.ui.form.edits import Edit, LinesField, edit_for
from workbench.ui.parts import follow_with_tab, label
from workbench.ui.theme import step

_LABEL = 14
"""Most steps that the names of fields may take; longer ones go on in a second line."""


class RecordForm(QScrollArea):
    """The fields of one record type, one below the other.

    Attributes:
        edited: The person wrote; the texts that differ from the record, by field.
    """

    edited = Signal(dict)

    def __init__(self, kind: type[Record], parent: QWidget | None = None) -> None:
        """Make the empty form of `kind`."""
        super().__init__(parent)
        self.kind = kind
        self._infos = fields_of(kind)
        self._dossier = Dossier()
        self._record: Record | None = None
        self._typed: Typed | None = None
        self._touched: set[str] = set()
        self._edits: dict[str, Edit] = {}
        self._faults: dict[str, QLabel] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    @property
    def record(self) -> Record | None:
        """The record that is shown; None for a new one."""
        return self._record

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the fields."""
        return {name: edit.text() for name, edit in self._edits.items()}

    @property
    def changes(self) -> dict[str, str]:
        """What stands in the fields and is not what the record says."""
        said = texts_of(self._record) if self._record else {}
        return {name: text for name, text in self.texts.items() if text != said.get(name, "")}

    def field(self, name: str) -> QWidget:
        """Return the widget in which a field is written."""
        return self._edits[name].widget()

    def told(self, name: str) -> str:
        """Return what is said to be wrong with a field; empty for nothing."""
        return self._faults[name].text()

    def show_record(
        self, record: Record | None, dossier: Dossier, draft: Mapping[str, str] | None = None
    ) -> None:
        """Show a record, or an empty form, with the texts of a draft over it."""
        if not self._edits or dossier is not self._dossier:
            self._dossier = dossier
            self._build_anew()
        self._record, self._touched = record, set(draft or ())
        said = (texts_of(record) if record else {}) | dict(draft or {})
        for info in self._infos:
            self._edits[info.name].put(said.get(info.name, ""))
        if draft:
            self._read()
        else:
            self._typed = None
            for info in self._infos:
                self._tell(info.name, None, wrong=False)

    def write(self, texts: Mapping[str, str]) -> None:
        """Write into fields as if the person had."""
        for name, text in texts.items():
            self._edits[name].put(text)
            self._touched.add(name)
        self._read()
        self.edited.emit(self.changes)

    def tried(self) -> Record | None:
        """Return the record that is written, or show all that is wrong and return None."""
        self._touched = {info.name for info in self._infos}
        self._read()
        if self._typed and self._typed.record:
            return self._typed.record
        wrong = self._typed.wrong if self._typed else {}
        first = next((info.name for info in self._infos if info.name in wrong), None)
        if first:
            self._edits[first].widget().setFocus(Qt.FocusReason.OtherFocusReason)
            self.ensureWidgetVisible(self._edits[first].widget())
        return None

    def focus_field(self, name: str = "") -> None:
        """Go to a field, or to the first one."""
        edit = self._edits.get(name) or next(iter(self._edits.values()), None)
        if edit:
            edit.widget().setFocus(Qt.FocusReason.OtherFocusReason)

    def lock(self, *, locked: bool, but: Collection[str] = ()) -> None:
        """Let nothing be written while `locked`, except in the fields `but`."""
        for name, edit in self._edits.items():
            edit.widget().setEnabled(not locked or name in but)

    def _build_anew(self) -> None:
        """Build the fields with what they may hold now; the keys stay where they were."""
        fields = self._edits.items()
        held = next((name for name, edit in fields if edit.widget().hasFocus()), None)
        self._build()
        if held:
            self.focus_field(held)

    def _build(self) -> None:
        inner = QWidget(self)
        grid = QGridLayout(inner)
        grid.setContentsMargins(step(self), step(self, 0.5), step(self), step(self))
        grid.setHorizontalSpacing(step(self))
        grid.setVerticalSpacing(step(self, 0.25))
        grid.setColumnStretch(1, 1)
        for row, info in enumerate(self._infos):
            self._build_row(grid, 2 * row, info, inner)
        grid.setRowStretch(2 * len(self._infos), 1)
        self.setWidget(inner)
        follow_with_tab(self)

    def _build_row(self, grid: QGridLayout, row: int, info: FieldInfo, inner: QWidget) -> None:
        edit = edit_for(self.kind, info, self._dossier, lambda: self._on_edited(info.name), inner)
        name = label(info.column.heading + (" *" if info.required else ""), "quiet", inner)
        name.setBuddy(edit.widget())
        if name.sizeHint().width() > step(self, _LABEL):
            name.setWordWrap(True)
            name.setFixedWidth(step(self, _LABEL))
            name.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        fault = label("", "wrong", inner)
        fault.setWordWrap(True)
        fault.hide()
        high = isinstance(edit, LinesField)
        stands = Qt.AlignmentFlag.AlignTop if high else Qt.AlignmentFlag.AlignVCenter
        grid.addWidget(name, row, 0, Qt.AlignmentFlag.AlignRight | stands)
        grid.addWidget(edit.widget(), row, 1)
        grid.addWidget(fault, row + 1, 1)
        self._edits[info.name], self._faults[info.name] = edit, fault

    def _on_edited(self, name: str) -> None:
        self._touched.add(name)
        self._read()
        self.edited.emit(self.changes)

    def _read(self) -> None:
        self._typed = read_record(self.kind, self.texts, self._dossier, self._record)
        for info in self._infos:
            told = self._typed.wrong if info.name in self._typed.wrong else self._typed.remarks
            shown = told.get(info.name) if info.name in self._touched else None
            self._tell(info.name, shown, wrong=info.name in self._typed.wrong)

    def _tell(self, name: str, fault: Fault | None, *, wrong: bool) -> None:
        line, widget = self._faults[name], self._edits[name].widget()
        sign = "✕" if wrong else "!"
        line.setText(f"{sign} {fault.wrong}; {fault.right}" if fault else "")
        line.setVisible(fault is not None)
        widget.setAccessibleDescription(line.text())
        marked = bool(fault) and wrong
        if bool(widget.property("wrong")) != marked:
            widget.setProperty("wrong", marked)
            widget.style().unpolish(widget)
            widget.style().polish(widget)
