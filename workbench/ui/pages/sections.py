"""Sections: scale by two points, a line across the layers, seams proposed and confirmed."""

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QTabWidget, QVBoxLayout, QWidget

from workbench.records import (
    KnownError,
    LabResult,
    MarkShape,
    NotUnderstoodError,
    Photo,
    Points,
    Sample,
    SectionReading,
    Source,
)
from workbench.ui.bench import Bench
from workbench.ui.laboratory.fields import Fields
from workbench.ui.laboratory.page import LaboratoryPage
from workbench.ui.laboratory.reach import Reach, cannot, wrapped
from workbench.ui.laboratory.section_view import SectionView
from workbench.ui.parts import bare_column, button, parted, scrolled, tool
from workbench.ui.photos.large import read_picture
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.laboratory.found import Laboratory
    from workbench.desk.acts import Act
    from workbench.desk.laboratory.constructing import Sketch

_HOW = (
    "Set the two ends of the scale bar, say its length, draw a line across the layers from the "
    "outer face down, name the layers along it, and let the seams be proposed. Look at each seam; "
    "move it where it is wrong. Only what a person confirms is recorded."
)


_EMPTY = (
    "No picture of a sample is in the case. Under Survey, Photographs, add the micrograph and say "
    "which sample it was taken of."
)


class SectionsPage(LaboratoryPage):
    """Micrographs, the construction on the one that is chosen, and the readings recorded."""

    alone = True

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self.sketch: Sketch | None = None
        self.view = SectionView(self)
        self.list = LinesView("Micrographs", ("picture", "sample", "read"), self)
        self.layers = LinesView("Layers", ("layer", "mean µm", "least to greatest", "U"), self)
        self.recorded = LinesView("Readings", ("ref", "picture", "layers, µm", "by"), self)
        self.fields = Fields(self._on_fields, self)
        self.meaning = wrapped(_HOW, self)
        self.limits = wrapped("", self)
        self.reach = Reach(self)
        self._lay_out()
        self._connect()

    @property
    def current(self) -> Source | None:
        """The picture that is chosen."""
        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind.source if line and isinstance(line.behind, Photo) else None

    def enter(self) -> None:
        """Go to the list of micrographs."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_found(self, found: "Laboratory") -> None:
        """List the pictures of samples, and the readings."""
        pictures = _pictures(self.bench)
        self.count.setText(f"{len(pictures)}")
        read = {one.reading.file: one for one in found.sections}
        held = self.sketch.file if self.sketch else ""
        self.list.show_lines(
            [
                Line((one.ref or one.file, one.at, "read" if one.file in read else ""), one)
                for one in pictures
            ],
            (10, 10),
        )
        self.recorded.show_lines(
            [
                Line(
                    (
                        one.reading.ref, one.reading.file,
                        "; ".join(f"{o}: {a.mean_um:.0f}" for o, a in one.layers.items()),
                        one.reading.confirmed_by,
                    ),
                    one.reading,
                )
                for one in found.sections
            ],
            (10, 26, 24),
        )  # fmt: skip
        rows = [n for n, one in enumerate(pictures) if one.file == held] or [0]
        if pictures:
            self.list.setCurrentIndex(self.list.model().index(rows[0], 0))
        elif not found.problems:
            self.say_wrong(_EMPTY)

    def propose(self) -> None:
        """Look for the seams along the line; a person confirms them."""
        from workbench.desk.laboratory.constructing import proposed

        self._taken()
        sketch = self.sketch
        path = self.bench.case.original(sketch.file) if sketch else None
        if sketch is None or path is None:
            self.say_wrong("Choose a micrograph that is in the case.")
            return
        try:
            self.sketch = proposed(sketch, path)
            self.say_wrong("")
        except (KnownError, NotUnderstoodError, ValueError, OSError) as wrong:
            self.say_wrong(f"No seams proposed: {wrong}.")
        self._show_construction()

    def move_seam(self, by_px: float) -> None:
        """Move the seam below the chosen layer along the line."""
        if self.sketch is None or self.sketch.seams is None:
            return
        seam = max(0, self.layers.currentIndex().row())
        try:
            self.sketch = self.sketch.with_seam_moved(seam, by_px)
        except (KnownError, ValueError) as wrong:
            self.say_wrong(str(wrong))
        self._show_construction()

    def record(self) -> None:
        """Record the section over the name of the person, with the thickness of each layer."""
        from workbench.desk.laboratory.results import next_ref, section_act

        self._taken()
        sketch = self.sketch
        if sketch is None:
            self.bench.refused.emit("Choose a micrograph.")
            return
        dossier = self.bench.dossier
        ref = next_ref(dossier, SectionReading, "SR-")

        def made() -> "Act":
            reading = sketch.reading(ref, self.bench.case.author, self.today())
            return section_act(dossier, reading, sketch.size)

        self.do(made, f"{ref} is recorded with its layers.")

    def _on_chosen(self) -> None:
        line = self.list.lines.line_at(self.list.currentIndex().row())
        photo = line.behind if line else None
        if not isinstance(photo, Photo) or (self.sketch and self.sketch.file == photo.file):
            return
        from workbench.desk.laboratory.constructing import Sketch, sketch_of

        picture, size = read_picture(self.bench, photo)
        self.view.show_picture(picture, size, ())
        held = [r for r in self.bench.dossier.all(SectionReading) if r.file == photo.file]
        sample = photo.at if self.bench.dossier.find(Sample, photo.at) else ""
        self.sketch = (
            sketch_of(held[-1], size) if held else Sketch(file=photo.file, sample=sample, size=size)
        )
        self._fill_fields(self.sketch)
        self._show_construction()

    def _fill_fields(self, sketch: "Sketch") -> None:
        for name, said in (
            ("Sample", sketch.sample), ("Scale, two points", _said(sketch.scale)),
            ("Scale length", sketch.length), ("Its uncertainty", sketch.doubt),
            ("Line, start and end", _said(sketch.line)), ("Layers along it", sketch.layers),
            ("Profiles", str(sketch.profiles)), ("Apart, px", f"{sketch.apart_px:g}"),
            ("Cut, degrees", sketch.mount),
        ):  # fmt: skip
            self.fields.set_text(name, said)

    def _on_fields(self) -> None:
        self._taken()
        self._show_construction()

    def _taken(self) -> None:
        """Take what the fields say into the sketch; seams go when what they rest on changes."""
        if self.sketch is None:
            return
        try:
            fresh = replace(
                self.sketch,
                sample=self.fields.text("Sample"),
                scale=_points(self.fields.text("Scale, two points")),
                length=self.fields.text("Scale length"),
                doubt=self.fields.text("Its uncertainty"),
                line=_points(self.fields.text("Line, start and end")),
                layers=self.fields.text("Layers along it"),
                profiles=max(1, int(self.fields.number("Profiles"))),
                apart_px=self.fields.number("Apart, px"),
                mount=self.fields.text("Cut, degrees"),
            )
        except (KnownError, NotUnderstoodError) as wrong:
            self.say_wrong(str(wrong))
            return
        rest = ("line", "layers", "profiles", "apart_px")
        if any(getattr(fresh, name) != getattr(self.sketch, name) for name in rest):
            fresh = replace(fresh, seams=None, moved=False)
        self.sketch = fresh

    def _on_drawn(self, shape: MarkShape, points: Any) -> None:  # noqa: ANN401 - Qt's object
        name = "Scale, two points" if shape is MarkShape.SCALE else "Line, start and end"
        self.fields.set_text(name, _said(points))
        self.view.choose_tool(None)
        self._on_fields()

    def _show_construction(self) -> None:
        sketch = self.sketch
        if sketch is None:
            return
        row = self.layers.currentIndex().row()
        lines, said = self._measured(sketch)
        self.layers.show_lines(lines, (8, 9, 16))
        if lines:
            self.layers.setCurrentIndex(self.layers.model().index(max(0, row), 0))
        self.meaning.setText(said)
        self._show_seams()

    def _show_seams(self) -> None:
        if self.sketch:
            chosen = self.layers.currentIndex().row() if self.sketch.seams else -1
            one = self.sketch
            self.view.show_construction(one.scale, one.line, one.seams, one.profiles, chosen)

    def _measured(self, sketch: "Sketch") -> tuple[list[Line], str]:
        if sketch.seams is None:
            return [], _HOW
        try:
            read = sketch.read()
        except (KnownError, NotUnderstoodError, ValueError) as wrong:
            return [], str(wrong)
        lines = [
            Line(
                (
                    "gap" if order is None else str(order), f"{layer.mean_um:.1f}",
                    f"{layer.least_um:.1f} to {layer.greatest_um:.1f}",
                    f"± {2 * layer.uncertainty_um:.1f}",
                )
            )
            for order, layer in zip(read.reading.orders, read.section.layers, strict=True)
        ]  # fmt: skip
        lines.append(Line(("last seam", "", "", "")))
        tilt = f"Tilt of the profiles to the seams {read.section.tilt_deg:.1f}°, corrected; "
        if read.section.mount_deg < 90:
            tilt += f"cut at {read.section.mount_deg:g}° to the surface, corrected; "
        scale = f"{read.scale.um_per_px:.3f} µm in a pixel; U is expanded, k = 2."
        return lines, tilt + scale

    def _connect(self) -> None:
        self.list.selectionModel().currentRowChanged.connect(lambda *_: self._on_chosen())
        self.layers.selectionModel().currentRowChanged.connect(lambda *_: self._show_seams())
        self.view.drawn.connect(self._on_drawn)

    def _lay_out(self) -> None:
        for name, hint in (
            ("Sample", ""), ("Scale, two points", "x y; x y as shares of the picture"),
            ("Scale length", "as 500 um"), ("Its uncertainty", "as 2 um, standard"),
            ("Line, start and end", "x y; x y as shares of the picture"),
            ("Layers along it", "as 3; -; 2; 1 with - for a gap"), ("Profiles", ""),
            ("Apart, px", ""), ("Cut, degrees", "angle to the surface; blank: square"),
        ):  # fmt: skip
            self.fields.add_line(name, "", hint)
        self.reach.show_methods(("l-section", "l-stereo", "l-petro"))
        self.limits.setText(cannot("l-section"))
        right = scrolled(side := self._right())
        bar = right.verticalScrollBar().sizeHint().width()
        right.setMinimumSize(side.minimumSizeHint().width() + bar, step(self, 24))
        halves = parted(
            self, Qt.Orientation.Horizontal, (self._left(), right), grows=0, steps=(86, 46)
        )
        whole = bare_column(self)
        whole.addLayout(self.head("Sections", self.count))
        whole.addWidget(self.wrong)
        whole.addWidget(halves, 1)

    def _left(self) -> QWidget:
        side = QWidget(self)
        tools = QHBoxLayout()
        tools.setSpacing(step(self))
        tools.setContentsMargins(step(self), 0, step(self), step(self, 0.5))
        for words, shape, keys, how in (
            ("Scale", MarkShape.SCALE, "Ctrl+Shift+S", "both ends of something of known length"),
            (
                "Line",
                MarkShape.DIMENSION,
                "Ctrl+Shift+L",
                "from before the first seam to behind the last",
            ),
        ):
            made = tool(words, f"{words}: {how} ({keys})", partial(self.choose_tool, shape), side)
            made.setShortcut(keys)
            tools.addWidget(made)
        proposing = button("Propose seams", self.propose, side, tip="Ctrl+Shift+P")
        proposing.setShortcut("Ctrl+Shift+P")
        tools.addWidget(proposing)
        for words, by, keys in (("Seam ↑", -1.0, "Alt+Up"), ("Seam ↓", 1.0, "Alt+Down")):
            tip = f"Move the chosen seam by one pixel along the line ({keys})"
            made = tool(words, tip, partial(self.move_seam, by), side)
            made.setShortcut(keys)
            tools.addWidget(made)
        tools.addStretch()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(tools)
        column.addWidget(self.view, 1)
        self.limits.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        column.addWidget(self.limits)
        return side

    def _right(self) -> QWidget:
        side = QWidget(self)
        self.list.setMaximumHeight(step(self, 14))
        tabs = QTabWidget(side)
        tabs.setDocumentMode(True)
        tabs.addTab(self.layers, "Layers")
        tabs.addTab(self.recorded, "Readings")
        tabs.addTab(self.reach, "Can and cannot tell")
        column = QVBoxLayout(side)
        column.setContentsMargins(step(self), 0, step(self), step(self))
        column.setSpacing(step(self, 0.75))
        column.addWidget(self.list)
        column.addWidget(self.fields)
        column.addWidget(tabs, 1)
        column.addWidget(self.meaning)
        column.addWidget(button("Confirm and record", self.record, side, main=True))
        return side

    def choose_tool(self, shape: MarkShape) -> None:
        """Begin to set the two points of the scale, or of the line."""
        self.view.choose_tool(shape)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)


def _pictures(bench: Bench) -> list[Photo]:
    """Return the photographs of samples, those of sections first."""
    dossier = bench.dossier
    files = {one.file for one in dossier.all(LabResult) if one.file}
    held = [
        one
        for one in dossier.all(Photo)
        if one.file and (dossier.find(Sample, one.at) or one.file in files)
    ]

    def rank(photo: Photo) -> tuple[bool, str]:
        sample = dossier.find(Sample, photo.at)
        return not (sample and sample.kind.value == "section"), photo.ref or photo.file

    return sorted(held, key=rank)


def _points(said: str) -> tuple[tuple[float, float], ...]:
    return Points.read(said).points if said.strip() else ()


def _said(points: tuple[tuple[float, float], ...]) -> str:
    return str(Points(points)) if points else ""
