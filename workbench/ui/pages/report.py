"""Writing the report: how it is made, where it goes, how far it is, what came of it."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QHBoxLayout, QVBoxLayout, QWidget

from workbench.resources import report_profile_names
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.pages.checklist import Checklist
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label, rule
from workbench.ui.theme import step
from workbench.ui.work_line import WorkLine

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.desk.reporting import Wish, Written
    from workbench.ui.tasks import Step


_NO_PROFILE = "none"


class ReportPage(Page):
    """Makes the draft report of the case as a Word document."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Offer what can be chosen."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self.form = _choice("Form", ("full", "short"), self)
        self.units = _choice("Units", ("SI", "US", "both"), self)
        self.paper = _choice("Paper", ("A4", "Letter"), self)
        self.profile = _choice("Checklist", (_NO_PROFILE, *report_profile_names()), self)
        self.checklist = Checklist(bench, self)
        self.pdf = QCheckBox("A PDF beside it, where LibreOffice is installed", self)
        self.pdf.setChecked(True)
        self._write = button("Write the report…", self.choose_place, self, main=True)
        self.work = WorkLine(self)
        self._said = label("", "", self)
        self._open = button("Open the document", self._open_document, self)
        self._state = label("", "quiet", self)
        self._checked = button("I have checked it", self.check, self)
        self._authorised = button("I authorise it", self.authorise, self)
        self._issued = button("Issue it…", self.choose_issue, self)
        self._written: Written | None = None
        self._lay_out()
        self.profile.currentTextChanged.connect(lambda _name: self.checklist.fill(self._wish()))
        self.work.told.connect(lambda words, _wrong: self._said.setText(words))

    @property
    def said(self) -> str:
        """What came of it."""
        return self._said.text()

    def fill(self) -> None:
        """Offer the units that the case is shown in."""
        from workbench.desk.issuing import in_hand

        held = in_hand(self.bench.dossier)
        self.units.setCurrentText(str(self.bench.showing.system))
        if held:
            self.profile.setCurrentText(held.profile or _NO_PROFILE)
        self.checklist.fill(self._wish())
        self._show_state()

    def enter(self) -> None:
        """Go to the button that writes."""
        self._write.setFocus()

    def choose_place(self) -> None:
        """Ask where the document goes."""
        reference = self.bench.dossier.entry("reference") or "report"
        name = self.bench.case.folder.parent / f"{reference}-R1-draft.docx"
        self.ask.new_file(self, "The report", "Word documents (*.docx)", name, self.write)

    def write(self, path: Path) -> None:
        """Write the report to `path`."""
        from workbench.desk.reporting import write_report

        wish = self._wish(path)
        case = self.bench.case

        def work(step: "Step") -> "Written":
            return write_report(case, wish, step)

        self._said.setText("")
        self._open.hide()
        self.work.begin("Writing the report", work, self._on_written)

    def check(self) -> None:
        """Enter that the person has checked the report as it stands."""
        from workbench.desk.reporting import check_report

        wish, case = self._wish(), self.bench.case
        self._state_by(lambda: check_report(case, wish, case.author))

    def authorise(self) -> None:
        """Enter that the person authorises the report that was checked."""
        from workbench.desk.reporting import authorise_report

        case = self.bench.case
        self._state_by(lambda: authorise_report(case, case.author))

    def choose_issue(self) -> None:
        """Ask where a copy of the issued report goes; the case keeps its bytes."""
        reference = self.bench.dossier.entry("reference") or "report"
        name = self.bench.case.folder.parent / f"{reference}-issued.docx"
        self.ask.new_file(self, "The issued report", "Word documents (*.docx)", name, self.issue)

    def issue(self, path: Path) -> None:
        """Issue the report: its bytes are kept and never change."""
        from workbench.desk.reporting import issue_report

        wish, case = self._wish(path), self.bench.case
        self.work.begin("Issuing the report", lambda told: issue_report(case, wish, told),
                         self._on_written)  # fmt: skip

    def _state_by(self, doing: "Callable[[], object]") -> None:
        self._said.setText("")
        self.work.begin("Reading the report", lambda _told: doing(), lambda _done: self.fill())

    def _show_state(self) -> None:
        from workbench.desk.issuing import in_hand, latest_issued

        held, issued = in_hand(self.bench.dossier), latest_issued(self.bench.dossier)
        said = [f"{issued.ref} was issued {issued.issued_on}."] if issued else []
        if held:
            said.append(f"{held.ref} is {held.state.value}; a change to it makes it a draft again.")
        self._state.setText(" ".join(said) or "A draft; nothing has been checked or issued yet.")

    def _wish(self, path: Path | None = None) -> "Wish":
        from workbench.desk.reporting import Wish

        return Wish(
            out=path, form=self.form.currentText(), units=self.units.currentText(),
            paper=self.paper.currentText(), pdf=self.pdf.isChecked(), profile=self._profile(),
        )  # fmt: skip

    def _profile(self) -> str:
        name = self.profile.currentText()
        return "" if name == _NO_PROFILE else name

    def _on_written(self, written: "Written") -> None:
        self._written = written
        pages = f", {written.pages} pages" if written.pages else ""
        said = [f"{written.document} is written{pages}."]
        said += [f"{written.pdf} is written."] if written.pdf else []
        self._said.setText("\n".join((*said, *written.remarks)))
        self._open.show()
        self.bench.told.emit(said[0])

    def _open_document(self) -> None:
        if self._written:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._written.document)))

    def _lay_out(self) -> None:
        rows = QFormLayout()
        rows.setHorizontalSpacing(step(self, 2))
        chosen = (("Form", self.form), ("Units", self.units), ("Paper", self.paper),
                  ("Checklist", self.profile))  # fmt: skip
        for name, field in chosen:
            rows.addRow(label(name, "quiet", self), field)
        rows.addRow("", self.pdf)
        buttons = QHBoxLayout()
        buttons.addWidget(self._write)
        buttons.addWidget(self._open)
        buttons.addStretch()
        self._open.hide()
        self._said.setWordWrap(True)
        note = label(
            "Facts, inferences and opinions stand apart; every number carries its source. What is "
            "open is printed as open: look at the open points first (F8).", "quiet", self,
        )  # fmt: skip
        note.setWordWrap(True)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self, 2))
        whole.setSpacing(step(self))
        whole.addWidget(label("Write the report", "title", self))
        whole.addWidget(note)
        whole.addLayout(rows)
        whole.addWidget(self.checklist, 2)
        whole.addLayout(buttons)
        whole.addWidget(rule(self))
        whole.addWidget(self._state)
        states = QHBoxLayout()
        for widget in (self._checked, self._authorised, self._issued):
            states.addWidget(widget)
        states.addStretch()
        whole.addLayout(states)
        whole.addWidget(self.work)
        whole.addWidget(self._said)
        whole.addStretch(1)


def _choice(name: str, words: tuple[str, ...], parent: QWidget) -> QComboBox:
    made = QComboBox(parent)
    made.addItems(words)
    made.setAccessibleName(name)
    made.setMaximumWidth(step(parent, 20))
    return made
