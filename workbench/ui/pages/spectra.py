"""Infrared spectra: overlaid by face, held against controls, assigned with a reason."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QHBoxLayout,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.records import Assignment, KnownError, Source
from workbench.records.codes import YesNo
from workbench.ui.bench import Bench
from workbench.ui.laboratory.band_ratios import BandRatios
from workbench.ui.laboratory.fields import Fields
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.laboratory.reach import Beside, Reach, wrapped
from workbench.ui.parts import bare_column, button, parted
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from workbench.analysis.laboratory.found import Laboratory
    from workbench.analysis.laboratory.spectra import Against, SpectrumStudy
    from workbench.analysis.spectra.peaks import Peak
    from workbench.desk.acts import Act
    from workbench.figures.look import Look
    from workbench.figures.marks import Marks
    from workbench.ui.laboratory.drawing import Drawing

_MASKED, _SMOOTH = "Left out", "Smoothed over"
_EMPTY = (
    "No spectrum is tied to a sample. Under Curves, Insert adds one: name its file, say infrared, "
    "and the sample. A laboratory result that names a file is read as well."
)
_HEADINGS = ("sample, face", "stands for", "most alike", "r²", "checked")
_AGAINST = ("held against", "r²", "size", "more at 1/cm", "less at 1/cm")


class SpectraPage(LaboratoryPage):
    """The spectra of the case, the one that is chosen, and what it may be: never a verdict."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self._studies: tuple[SpectrumStudy, ...] = ()
        self._study: SpectrumStudy | None = None
        self.list = LinesView("Spectra", _HEADINGS, self)
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.against = LinesView("Held against controls and references", _AGAINST, self)
        self.ratios = BandRatios(self)
        self.assigned = LinesView("Assignments", ("candidate", "bands", "reason", "by"), self)
        self.meaning = wrapped("", self)
        self.stacked = QCheckBox("Apart", self)
        self.slopes = QCheckBox("Compare slopes", self)
        self.settings = Fields(self._on_settings, self)
        self.smoothing = Fields(self._on_settings, self)
        self.said = Fields(lambda: None, self)
        self.reach = Reach(self)
        self.drawing: Drawing | None = None
        self._lay_out()
        self._connect()

    @property
    def current(self) -> Source | None:
        """The record that names the spectrum which is chosen."""
        return self._study.of.sources[0] if self._study and self._study.of.sources else None

    def enter(self) -> None:
        """Go to the list of spectra."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self, found: "Laboratory") -> None:
        """List the spectra that the focus takes."""
        focus, index, dossier = self.bench.selection.focus, self.bench.index, self.bench.dossier
        held = self._study.of.file if self._study else ""
        shown = [
            one
            for one in found.spectra
            if not one.of.sources
            or any((r := dossier.resolve(s)) and index.takes(focus, r) for s in one.of.sources)
        ]
        whole = len(found.spectra)
        self.count.setText(f"{whole}" if len(shown) == whole else f"{len(shown)} of {whole}")
        shown.sort(key=_place)
        self._studies = tuple(self._evaluated(one, found) for one in shown)
        self.list.show_lines([_line(one) for one in self._studies], (20, 13, 16, 8))
        self.ratios.show_studies(self._studies)
        rows = [n for n, one in enumerate(self._studies) if one.of.file == held] or [0]
        if self._studies:
            keep = QItemSelectionModel.SelectionFlag.NoUpdate
            self.list.selectionModel().setCurrentIndex(self.list.model().index(rows[0], 0), keep)
            self.list.selectAll()
        else:
            self._on_chosen()

    def _evaluated(self, one: "SpectrumStudy", found: "Laboratory") -> "SpectrumStudy":
        """Return the study anew where a person asked for other settings than the usual ones."""
        from workbench.analysis.laboratory.spectra import SpectrumSettings, study_spectrum

        try:
            settings = SpectrumSettings(
                masked=self._masked(), slopes=self.slopes.isChecked(), smooth=self._smoothed()
            )
        except KnownError as wrong:
            self.say_wrong(str(wrong))
            return one
        if settings == SpectrumSettings():
            return one
        known = tuple(other.of for other in found.spectra if other.of.known)
        try:
            return study_spectrum(one.of, known, settings)
        except ValueError as wrong:
            self.say_wrong(f"{one.of.name}: {wrong}")
            return one

    def _smoothed(self) -> int:
        said = self.smoothing.text(_SMOOTH)
        if said and not (said.isdecimal() and int(said) % 2 and int(said) > 3):
            raise KnownError(f"{_SMOOTH}: “{said}” is no odd number of points above 3, as 9")
        return int(said or 0)

    def _masked(self) -> tuple[tuple[float, float], ...]:
        parts = [part.split() for part in self.settings.text(_MASKED).split(";") if part.strip()]
        try:
            return tuple((min(a, b), max(a, b)) for a, b in (map(float, part) for part in parts))
        except ValueError:
            said = self.settings.text(_MASKED)
            raise KnownError(
                f"{_MASKED}: “{said}” is no list of regions; write 2280 2400; 1800 1900"
            ) from None

    def _on_settings(self) -> None:
        self.renew()

    def _on_chosen(self) -> None:
        line = self.list.lines.line_at(self.list.currentIndex().row())
        self._study = line.behind if line else None  # type: ignore[assignment]  # made in _line
        study = self._study
        self.against.show_lines([_held(one) for one in study.against] if study else (), (20, 8, 8))
        if study and study.against:
            self.against.setCurrentIndex(self.against.model().index(0, 0))
        self._show_assigned()
        self._on_against()

    def _on_against(self) -> None:
        study, held = self._study, self._held()
        self.meaning.setText(_words(study, held))
        at = "; ".join(f"{peak.position:.0f}" for peak in held.more) if held else ""
        self.said.set_text("Bands", at)
        if self.isVisible():
            self._draw()

    def _held(self) -> "Against | None":
        row = self.against.currentIndex().row()
        if self._study is None or not 0 <= row < len(self._study.against):
            return None
        return self._study.against[row]

    def _draw(self) -> None:
        from workbench.ui.laboratory.drawing import Drawing

        if self.drawing is None:
            self.drawing = Drawing("Infrared spectra", self.bench, self)
            self._room.addWidget(self.drawing)
        study, held, chosen = self._study, self._held(), self._overlaid()
        if study is None or not chosen:
            self.drawing.show_drawing(None, "" if self._studies else _EMPTY)
            return
        masked, apart = self._masked_or_none(), self.stacked.isChecked()

        def draw(figure: "Figure", look: "Look") -> "Marks":
            from workbench.figures.spectra import Trace, draw_spectra

            traces = [
                Trace(one.corrected, one.of.name, one.of.condition, one.of.sources)
                for one in chosen
            ]
            return draw_spectra(
                figure, traces, peaks=_marked(study, held), masked=masked,
                difference=held.difference if held else None, stacked=apart, look=look,
            )  # fmt: skip

        names = "; ".join(one.of.name for one in chosen)
        self.drawing.show_drawing(draw, f"{names}. {self.meaning.text()}")

    def _masked_or_none(self) -> tuple[tuple[float, float], ...]:
        try:
            return self._masked()
        except KnownError:
            return ()

    def _overlaid(self) -> "list[SpectrumStudy]":
        rows = sorted({index.row() for index in self.list.selectedIndexes()})
        return [self._studies[row] for row in rows if row < len(self._studies)]

    def _show_assigned(self) -> None:
        file = self._study.of.file if self._study else ""
        self.assigned.show_lines(
            [
                Line((one.candidate, one.bands, one.reason, one.by), one.source)
                for one in self.bench.dossier.all(Assignment)
                if one.file == file
            ],
            (18, 14, 24),
        )

    def assign(self) -> None:
        """Record what the analyst holds the chosen spectrum to be."""
        from workbench.desk.laboratory.results import assignment_act

        study = self._study
        if study is None:
            self.bench.refused.emit("Choose a spectrum.")
            return
        said = {
            "candidate": self.said.text("Candidate"), "bands": self.said.text("Bands"),
            "reason": self.said.text("Reason"), "against": self.said.text("Against it"),
        }  # fmt: skip

        def made() -> "Act":
            return assignment_act(
                self.bench.dossier, study.of, said=said, by=self.bench.case.author,
                date=self.today(),
            )  # fmt: skip

        if self.do(made, f"{said['candidate']} is assigned, with the reason."):
            for name in ("Candidate", "Reason", "Against it"):
                self.said.set_text(name, "")

    def record(self, extra: YesNo) -> None:
        """Record whether the analyst sees bands that the known spectrum does not show."""
        from workbench.desk.laboratory.results import comparison_act

        study, held = self._study, self._held()
        if study is None or held is None:
            self.bench.refused.emit("Choose a spectrum and what it is held against.")
            return

        def made() -> "Act":
            return comparison_act(
                self.bench.dossier, study.of, held, extra=extra, by=self.bench.case.author,
                date=self.today(),
            )  # fmt: skip

        self.do(made, "The comparison is recorded as a result.")

    def _on_lit(self) -> None:
        lit = set(self.bench.selection.sources)
        for row, one in enumerate(self._studies):
            if self.isVisible() and lit & set(one.of.sources):
                self.list.setCurrentIndex(self.list.model().index(row, 0))
                return

    def _connect(self) -> None:
        chosen = self.list.selectionModel()
        chosen.currentRowChanged.connect(lambda *_: self._on_chosen())
        chosen.selectionChanged.connect(lambda *_: self._draw() if self.isVisible() else None)
        self.against.selectionModel().currentRowChanged.connect(lambda *_: self._on_against())
        self.stacked.toggled.connect(lambda _on: self._draw())
        self.slopes.toggled.connect(lambda _on: self.renew())
        self.bench.selection.focused.connect(self.renew)
        self.bench.selection.lit.connect(self._on_lit)

    def _lay_out(self) -> None:
        self.stacked.setChecked(True)
        self.stacked.setToolTip("Draw the spectra above each other")
        self.slopes.setToolTip("Compare first differences; a sloping baseline counts for less")
        self.settings.add_line(_MASKED, "2280 2400", "regions in 1/cm, ; between")
        self.smoothing.add_line(_SMOOTH, "", "no points")
        self.smoothing.setToolTip("Over an odd number of points, as 9; blank: not")
        self.smoothing.setMaximumWidth(step(self, 22))
        self.settings.setMaximumWidth(step(self, 30))
        self.reach.show_methods(("l-ftir",))
        room = QWidget(self)
        self._room = QVBoxLayout(room)
        self._room.setContentsMargins(0, 0, 0, 0)
        lists = QWidget(self)
        column = QVBoxLayout(lists)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(step(self, 0.5))
        column.addWidget(self.list, 2)
        column.addWidget(self.against, 2)
        self.meaning.setContentsMargins(step(self), 0, step(self), 0)
        column.addWidget(self.meaning)
        tabs = QTabWidget(self)
        tabs.setDocumentMode(True)
        tabs.addTab(lists, "Compared")
        tabs.addTab(self.ratios, "Band ratios")
        tabs.addTab(self._assigning(), "Assigned")
        halves = parted(
            self, Qt.Orientation.Vertical, (room, Beside(tabs, self.reach, self)), steps=(44, 38)
        )
        whole = bare_column(self)
        asked = (self.settings, self.smoothing, self.slopes, self.stacked)
        whole.addLayout(self.head("Spectra", self.count, right=asked))
        whole.addWidget(self.wrong)
        whole.addWidget(halves, 1)

    def _assigning(self) -> QWidget:
        sheet = QWidget(self)
        for name, hint in (
            ("Candidate", "what it is held to be"),
            ("Bands", "1/cm, ; between"),
            ("Reason", "why: bands, matches, what else was ruled out"),
            ("Against it", "what speaks against it"),
        ):
            self.said.add_line(name, "", hint)
        buttons = QHBoxLayout()
        buttons.setSpacing(step(self))
        buttons.addWidget(button("Record assignment", self.assign, sheet, main=True))
        buttons.addStretch()
        for words, extra in (("Bands more: present", YesNo.YES), ("Bands more: none", YesNo.NO)):
            tip = "Record the comparison that is chosen as a result, in your own judgement"
            buttons.addWidget(button(words, partial(self.record, extra), sheet, tip=tip))
        column = QVBoxLayout(sheet)
        column.setContentsMargins(step(self), step(self), step(self), step(self))
        column.addWidget(self.said)
        column.addLayout(buttons)
        column.addWidget(self.assigned, 1)
        return sheet


_ORDER = ("failing", "non-failing", "control")


def _place(study: "SpectrumStudy") -> tuple[bool, int]:
    """Return where a spectrum stands in the list: failing first, check films last."""
    stands = study.of.condition.value
    place = _ORDER.index(stands) if stands in _ORDER else len(_ORDER)
    return study.of.role.value == "check_film", place


def _line(study: "SpectrumStudy") -> Line:
    of, best = study.of, study.against[0] if study.against else None
    stands = of.condition.value if of.role.value == "specimen" else of.role.value.replace("_", " ")
    checked = ""
    if study.wavenumbers:
        checked = "within tolerance" if study.wavenumbers.passed else "✕ out of tolerance"
    return Line(
        (
            of.name, stands, best.known.name if best else "nothing known",
            f"{best.match.score:.4f}" if best else "", checked,
        ),
        study,
    )  # fmt: skip


def _held(one: "Against") -> Line:
    more, less = (
        ", ".join(f"{peak.position:.0f}" for peak in peaks) or "none"
        for peaks in (one.more, one.less)
    )
    return Line((one.known.name, f"{one.match.score:.4f}", f"{one.scale:.2f}", more, less), one)


def _marked(study: "SpectrumStudy", held: "Against | None") -> "tuple[Peak, ...]":
    """Return the bands to mark: those left over where there are some, else the strongest."""
    if held and held.more:
        return held.more
    return tuple(sorted(study.peaks, key=lambda peak: -peak.prominence)[:14])


def _words(study: "SpectrumStudy | None", held: "Against | None") -> str:
    if study is None:
        return _EMPTY
    fits = ", ".join(
        f"{one.chemistry.title} ({len(one.found)} of {len(one.found) + len(one.missing)} bands)"
        for one in study.candidates[:3]
    )
    said = [*(held.words if held else ("Nothing known to hold it against.",))]
    if study.together:
        said.append(study.together)
    if fits:
        said.append(f"Chemistries it is a candidate for: {fits}.")
    if study.wavenumbers:
        said += [
            f"{band.nominal:.1f} 1/cm found at {band.found:.2f}"
            for band in study.wavenumbers.bands
            if band.within is False and band.found is not None
        ]
    return " ".join((*said, *study.of.spectrum.notes))
