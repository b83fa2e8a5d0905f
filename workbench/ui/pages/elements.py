"""Elements by face: failing beside sound beside control, with spectra, overlaps, sums, ratios."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QTabWidget, QVBoxLayout, QWidget

from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.laboratory.fields import Fields
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.laboratory.reach import Beside, Reach, wrapped
from workbench.ui.parts import bare_column, parted
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from workbench.analysis.laboratory.elements import ElementRatio, FaceElements
    from workbench.analysis.laboratory.found import Laboratory
    from workbench.analysis.laboratory.xrays import XrayStudy
    from workbench.figures.look import Look
    from workbench.figures.marks import Marks
    from workbench.ui.laboratory.drawing import Drawing

_LABELLED = "Label with"
_EMPTY = (
    "No element is reported. Under Laboratory results, Insert adds one: the quantity eds:Ti, the "
    "share in %, the face and its control. An X-ray spectrum is named there or under Curves."
)


class ElementsPage(LaboratoryPage):
    """Bars or spectra by face, ratios to the control, sums, and what may be taken for what."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self._faces: tuple[FaceElements, ...] = ()
        self._xrays: tuple[XrayStudy, ...] = ()
        self._found: Laboratory | None = None
        headings = ("element", "face", "%", "control", "%", "times more")
        self.ratios = LinesView("Ratios to the control", headings, self)
        self.peaks = LinesView(
            "Peaks of the spectra", ("spectrum", "keV", "counts", "label", "what else it may be"),
            self,
        )  # fmt: skip
        self.sums = LinesView(
            "Sums of the elements", ("face", "as", "sum %", "may it be scaled", "scaled to 100 %"),
            self,
        )  # fmt: skip
        self.spectra = QCheckBox("Spectra", self)
        self.labelled = Fields(self._on_labelled, self)
        self.warnings = wrapped("", self)
        self.reach = Reach(self)
        self.drawing: Drawing | None = None
        self._lay_out()
        for view in (self.ratios, self.peaks, self.sums):
            view.clicked.connect(lambda _index: self._on_chosen())
            view.opened.connect(lambda _behind: self._on_chosen())
        self.spectra.toggled.connect(lambda _on: self._draw())
        self.bench.selection.focused.connect(self.renew)

    @property
    def current(self) -> Source | None:
        """The result that is chosen."""
        view = self.tabs.currentWidget()
        if not isinstance(view, LinesView):
            view = self.ratios
        line = view.lines.line_at(view.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Source) else None

    def enter(self) -> None:
        """Go to the ratios."""
        self.ratios.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self, found: "Laboratory") -> None:
        """Show the faces and spectra that the focus takes."""
        focus, index, dossier = self.bench.selection.focus, self.bench.index, self.bench.dossier

        def taken(sources: tuple[Source, ...]) -> bool:
            return any((r := dossier.resolve(s)) and index.takes(focus, r) for s in sources)

        self._found = found
        self._faces = tuple(one for one in found.elements.faces if taken(one.sources))
        xrays = tuple(one for one in found.xrays if taken(one.of.sources))
        self._xrays = tuple(self._labelled_anew(one) for one in xrays)
        self.spectra.setEnabled(bool(self._xrays))
        many = f", {len(self._xrays)} spectra" if self._xrays else ""
        self.count.setText(f"{len(self._faces)} faces{many}")
        shown = [one for one in found.elements.ratios if one.face in self._faces]
        self.ratios.show_lines([_line(one) for one in shown], (8, 14, 7, 14, 7))
        self.sums.show_lines([_sum(one) for one in self._faces], (16, 12, 8, 20))
        self.peaks.show_lines(_peaks(self._xrays), (16, 7, 8, 12))
        told = dict.fromkeys(
            (*found.elements.warnings, *(words for one in self._xrays for words in one.warnings))
        )
        nothing = "No two of the elements reported have lines too near to be told apart."
        words = " ".join(f"✕ {one.rstrip('.')}." for one in told) or nothing
        others = (f"{one[:1].upper()}{one[1:]}." for one in found.elements.mistakable)
        words = " ".join((words, *others))
        self.warnings.setText(words if self._faces or self._xrays else _EMPTY)
        self._draw()

    def _labelled_anew(self, study: "XrayStudy") -> "XrayStudy":
        """Return a study with the elements that a person asks for, where there are some."""
        from workbench.analysis.laboratory.xrays import study_xray

        asked = self.labelled.text(_LABELLED).replace(",", " ").split()
        return study_xray(self.bench.dossier, study.of, asked) if asked else study

    def _on_labelled(self) -> None:
        if self._found:
            self.show_found(self._found)

    def _on_chosen(self) -> None:
        if source := self.current:
            self.bench.selection.light([source])

    def _draw(self) -> None:
        from workbench.ui.laboratory.drawing import Drawing

        if self.drawing is None:
            self.drawing = Drawing("Elements by face", self.bench, self)
            self._room.addWidget(self.drawing)
        if self._xrays and (self.spectra.isChecked() or not self._faces):
            labels = "; ".join(f"{peak.label} {peak.kev:.2f} keV" for peak in self._xrays[0].peaks)
            self.drawing.show_drawing(partial(_draw_xrays, self._xrays), labels)
        elif self._faces:
            names = "; ".join(one.name for one in self._faces)
            self.drawing.show_drawing(partial(_draw_bars, self._faces), names)
        else:
            self.drawing.show_drawing(None, _EMPTY)

    def _lay_out(self) -> None:
        self.spectra.setToolTip("Show the X-ray spectra in the place of the bars")
        self.labelled.add_line(_LABELLED, "", "elements reported; or Ti Ba S")
        self.labelled.setMaximumWidth(step(self, 32))
        self.reach.show_methods(("l-sem-eds", "l-xps", "l-ic", "l-extract"))
        drawn = QWidget(self)
        self._room = QVBoxLayout(drawn)
        self._room.setContentsMargins(0, 0, 0, 0)
        self.warnings.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        self.tabs = QTabWidget(self)
        self.tabs.setDocumentMode(True)
        self.tabs.addTab(self.ratios, "Against the control")
        self.tabs.addTab(self.peaks, "Peaks")
        self.tabs.addTab(self.sums, "Sums")
        sheet = QWidget(self)
        column = QVBoxLayout(sheet)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.tabs, 1)
        column.addWidget(self.warnings)
        halves = parted(
            self, Qt.Orientation.Vertical, (drawn, Beside(sheet, self.reach, self)), steps=(46, 36)
        )
        whole = bare_column(self)
        whole.addLayout(self.head("Elements", self.count, right=(self.labelled, self.spectra)))
        whole.addWidget(self.wrong)
        whole.addWidget(halves, 1)


def _draw_bars(faces: "tuple[FaceElements, ...]", figure: "Figure", look: "Look") -> "Marks":
    from workbench.figures.elements import draw_elements

    said = [
        (one.name, one.condition, one.shares, one.sources[0] if one.sources else None)
        for one in faces
    ]
    return draw_elements(figure, said, look=look)


def _draw_xrays(studies: "tuple[XrayStudy, ...]", figure: "Figure", look: "Look") -> "Marks":
    from workbench.figures.xray import XrayTrace, draw_xrays

    traces = [
        XrayTrace(one.of.spectrum, one.of.name, one.of.condition, one.of.sources)
        for one in studies
    ]  # fmt: skip
    return draw_xrays(figure, traces, peaks=studies[0].peaks, look=look)


def _line(one: "ElementRatio") -> Line:
    ratio = "both below the limit" if one.ratio is None else f"{one.bound} {one.ratio:.2g}"
    cells = (
        one.element, one.face.name, _share(one.face, one.element), one.control.name,
        _share(one.control, one.element), ratio.removeprefix("= "),
    )  # fmt: skip
    return Line(cells, one.sources[0])


def _share(face: "FaceElements", element: str) -> str:
    if element in face.below:
        return f"< {face.below[element]:g}"
    return f"{face.shares[element]:g}"


def _sum(one: "FaceElements") -> Line:
    closure = one.closure
    if closure is None:
        return Line((one.name, "", "", one.closure_words, ""), one.sources[0])
    scaled = ", ".join(f"{name} {share:.1f}" for name, share in closure.normalised.items())
    total = f"{closure.total_percent:.1f}"
    return Line((one.name, one.basis, total, one.closure_words, scaled), one.sources[0])


def _peaks(studies: "tuple[XrayStudy, ...]") -> list[Line]:
    return [
        Line(
            (one.of.name, f"{peak.kev:.2f}", f"{peak.counts:.0f}", peak.label, peak.doubt),
            one.of.sources[0] if one.of.sources else None,
        )
        for one in studies
        for peak in one.peaks
    ]
