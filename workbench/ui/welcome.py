"""The first page: make a case, open one, open an example, or take in a field book."""

from functools import partial
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from PySide6.QtCore import QDateTime, QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QCompleter,
    QFormLayout,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from workbench.resources import sample_case_names
from workbench.ui.ask import Ask
from workbench.ui.parts import button, follow_with_tab, label, overline
from workbench.ui.settings import Settings
from workbench.ui.theme import step


class Welcome(QWidget):
    """What a person sees when no case is open.

    Attributes:
        made: The person wants a new case in this folder, with these entries.
        chosen: The person wants to open the case in this folder.
        example: The person wants the sample case of this name.
        book: The person wants a new case in this folder made from this field book.
    """

    made = Signal(object, object)
    chosen = Signal(object)
    example = Signal(str)
    book = Signal()

    def __init__(self, settings: Settings, ask: Ask, parent: QWidget | None = None) -> None:
        """Offer what `settings` remember."""
        super().__init__(parent)
        self._settings, self._ask = settings, ask
        self.author = QLineEdit(settings.author, self)
        self.reference = QLineEdit(self)
        self.title = QLineEdit(self)
        self.client = QLineEdit(self)
        self.site = QLineEdit(self)
        self.zone = QLineEdit(_zone_here(), self)
        self._make = button("Make the case…", self.make, self, main=True)
        self._wrong = label("", "wrong", self)
        self._recent = QVBoxLayout()
        self._lay_out()
        follow_with_tab(
            self.reference, self.title, self.client, self.site, self.zone, self.author, self._make
        )
        self.author.textEdited.connect(self._on_author)
        self.renew()

    def renew(self) -> None:
        """Show the cases that were opened last."""
        while (item := self._recent.takeAt(0)) is not None:
            if widget := item.widget():
                widget.deleteLater()
        for path in self._settings.recent:
            opened = button(path.name, partial(self.chosen.emit, path), self)
            opened.setProperty("link", True)
            opened.setToolTip(str(path))
            self._recent.addWidget(opened)
        if not self._settings.recent:
            self._recent.addWidget(label("No case was opened on this computer yet.", "quiet"))

    def make(self) -> None:
        """Ask where the new case shall lie, once it has a reference and a title."""
        missing = [
            (line, name)
            for line, name in ((self.reference, "a reference"), (self.title, "a title"))
            if not line.text().strip()
        ]
        if missing:
            self._say(f"A case needs {' and '.join(name for _, name in missing)}.")
            missing[0][0].setFocus(Qt.FocusReason.OtherFocusReason)
            return
        if self.zone.text().strip() not in available_timezones():
            self._say(f"“{self.zone.text()}” is no time zone; write one such as Europe/London.")
            self.zone.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self._say("")
        self._ask.folder(self, "Folder in which the case is made", self._on_folder)

    @property
    def entries(self) -> dict[str, str]:
        """What was written about the new case, by key."""
        lines = {
            "reference": self.reference, "title": self.title, "client": self.client,
            "site": self.site, "time zone": self.zone,
        }  # fmt: skip
        return {key: line.text().strip() for key, line in lines.items() if line.text().strip()}

    def _on_folder(self, folder: Path) -> None:
        self.made.emit(folder, self.entries)

    def _on_author(self, name: str) -> None:
        self._settings.author = name

    def _say(self, words: str) -> None:
        self._wrong.setText(words)
        self._wrong.setVisible(bool(words))

    def _lay_out(self) -> None:
        page = QWidget(self)
        page.setMaximumWidth(step(self, 120))
        grid = QGridLayout(page)
        grid.setContentsMargins(step(self, 4), step(self, 4), step(self, 4), step(self, 4))
        grid.setHorizontalSpacing(step(self, 6))
        grid.setVerticalSpacing(step(self, 2))
        grid.addWidget(label("Coating-failure workbench", "title", page), 0, 0, 1, 2)
        said = label("One case, from the first telephone note to the issued report.", "quiet", page)
        grid.addWidget(said, 1, 0, 1, 2)
        grid.addWidget(self._make_box(page), 2, 0)
        grid.addWidget(self._open_box(page), 2, 1)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        grid.setRowStretch(3, 1)
        across = QHBoxLayout(self)
        across.addStretch(1)
        across.addWidget(page, 8)
        across.addStretch(1)

    def _make_box(self, parent: QWidget) -> QWidget:
        box = QFrame(parent)
        whole = QVBoxLayout(box)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(step(self))
        whole.addWidget(overline("Make a case", box))
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.setLabelAlignment(Qt.AlignmentFlag.AlignRight)
        for text, line in (
            ("Reference *", self.reference), ("Title *", self.title), ("Client", self.client),
            ("Site", self.site), ("Time zone *", self.zone), ("Your name", self.author),
        ):  # fmt: skip
            line.setAccessibleName(text.replace(" *", ", required"))
            form.addRow(text, line)
        self.author.setPlaceholderText("as the journal of the case shall say")
        self.zone.textEdited.connect(lambda _text: self._offer_zones())
        whole.addLayout(form)
        self._wrong.setWordWrap(True)
        self._wrong.hide()
        whole.addWidget(self._wrong)
        row = QHBoxLayout()
        row.addWidget(self._make)
        row.addStretch()
        whole.addLayout(row)
        whole.addStretch()
        return box

    def _open_box(self, parent: QWidget) -> QWidget:
        box = QFrame(parent)
        whole = QVBoxLayout(box)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(step(self))
        whole.addWidget(overline("Open a case", box))
        whole.addLayout(self._recent)
        asked = button("Another case…", self._ask_case, box)
        whole.addLayout(_left(asked))
        whole.addSpacing(step(self))
        whole.addWidget(overline("Take in a field book", box))
        said = label("A book that came back from site becomes a new case.", "quiet", box)
        said.setWordWrap(True)
        whole.addWidget(said)
        whole.addLayout(_left(button("Field book…", self.book.emit, box)))
        whole.addSpacing(step(self))
        whole.addWidget(overline("Open an example", box))
        for name in sample_case_names():
            opened = button(
                name.replace("-", " ").capitalize(), partial(self.example.emit, name), box
            )
            whole.addLayout(_left(opened))
        whole.addWidget(label("Examples are invented.", "quiet", box))
        whole.addStretch()
        return box

    def _offer_zones(self) -> None:
        """Offer the time zones once one is written: to find them all takes its time."""
        if self.zone.completer() is None:
            zones = QCompleter(QStringListModel(sorted(available_timezones()), self), self)
            zones.setFilterMode(Qt.MatchFlag.MatchContains)
            zones.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            self.zone.setCompleter(zones)

    def _ask_case(self) -> None:
        self._ask.folder(self, "Folder of the case", self.chosen.emit)


def _left(widget: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.addWidget(widget)
    row.addStretch()
    return row


def _zone_here() -> str:
    zone = bytes(QDateTime.currentDateTime().timeZone().id().data()).decode()
    try:
        return ZoneInfo(zone).key
    except (ValueError, ZoneInfoNotFoundError):
        return "UTC"
