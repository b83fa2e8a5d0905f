"""Where: the instrument at the right that chooses and shows places."""

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QImage, QImageReader, QKeyEvent, QPainter, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QLineEdit,
    QMenu,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.questions.pattern import read_line
from workbench.desk.questions.site import Site, Spot, plane_names, site_of
from workbench.records import Area, Dossier, NotUnderstoodError
from workbench.records.levels import levels_of
from workbench.trade.showing import Bound
from workbench.ui.bench import Bench
from workbench.ui.flow import flow
from workbench.ui.parts import EscapeFirst, elided, overline, tool
from workbench.ui.theme import is_dark, step
from workbench.ui.where.items import scene_point
from workbench.ui.where.legend import PlanLegend
from workbench.ui.where.view import PlanView

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


_DRAWING = 0.35
"""How strongly the drawing stands beneath the plan; areas and places stand above it."""

_HOW_DRAWN = {
    "point": "Click where it is, or arrows and space; Esc leaves it",
    "line": "Click its two ends, or arrows and space; Esc leaves it",
    "outline": "Click the corners, or arrows and space; Return closes it, Esc leaves it",
}


class WherePanel(QWidget):
    """The plan of the site, linked to the selection.

    Attributes:
        placed: A location is to say this, by field.
        outlined: An area is to say this, by field.
        lined: Something lies along these points, in metres.
        plan_asked: The person wants a plan made from a picture, or the one shown calibrated again:
            its file, or "".
    """

    placed = Signal(dict)
    outlined = Signal(dict)
    lined = Signal(tuple)
    plan_asked = Signal(str)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show the first level of the site."""
        super().__init__(parent)
        self._bench = bench
        self.view = PlanView(self)
        self._legend = PlanLegend(self)
        self._levels = QComboBox(self)
        self._said = elided("quiet", self)
        self.coordinates = QLineEdit(self)
        self._pictures: dict[tuple[Path, bool], QPixmap] = {}
        self._lay_out()
        self._asked = ""
        self._questions: dict[str, Callable[[Dossier], Site]] = {}
        self.view.chosen.connect(self._on_chosen)
        self.view.drawn.connect(self._on_drawn)
        self.view.hovered.connect(self._on_hovered)
        self.view.crossed.connect(self._said.setText)
        self.view.left.connect(self._end_drawing)
        self.coordinates.returnPressed.connect(self._on_coordinates)
        EscapeFirst(self.coordinates)
        self.coordinates.installEventFilter(self)
        self._levels.currentIndexChanged.connect(self._show)
        bench.changed.connect(self._on_changed)
        bench.units_changed.connect(self._show)
        bench.answers.ready.connect(self._on_ready)
        bench.selection.focused.connect(self._mark)
        bench.selection.lit.connect(self._mark)
        self._on_changed()

    def _lay_out(self) -> None:
        self._levels.setAccessibleName("Level or side")
        tools: list[QWidget] = [self._levels, self._draw_menu()]
        tools[-1].setProperty("tight", True)
        for text, tip, act in (
            ("−", "Farther (−)", lambda: self.view.zoom(0.8)),
            ("+", "Closer (+)", lambda: self.view.zoom(1.25)),
            ("Fit", "The whole level (0)", self.view.fit),
        ):
            (made := tool(text, tip, act, self)).setProperty("tight", True)
            tools.append(made)
        head = flow(step(self, 0.25), (overline("Where", self),), tools)
        head.setContentsMargins(step(self), 0, step(self, 0.5), 0)
        self._said.setContentsMargins(step(self), 0, step(self), 0)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, step(self, 0.5), 0, step(self, 0.5))
        whole.setSpacing(step(self, 0.25))
        whole.addLayout(head)
        self.coordinates.setPlaceholderText("or x y in metres, as 12.4 3.5; Return")
        self.coordinates.setAccessibleName("Coordinates of what is drawn, x and y in metres")
        self.coordinates.hide()
        whole.addWidget(self.view, 1)
        whole.addWidget(self._said)
        whole.addWidget(self.coordinates)
        whole.addWidget(self._legend)

    def minimumSizeHint(self) -> QSize:
        """Need the height that the rows of its head and of its legend take at this width."""
        layout, least = self.layout(), super().minimumSizeHint()
        high = layout.minimumHeightForWidth(self.width()) if layout else 0
        return QSize(least.width(), max(least.height(), high))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask anew where there are other rows."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def _draw_menu(self) -> QToolButton:
        made = tool("Draw", "Place, outline, calibrate", lambda: None, self)
        menu = QMenu(made)
        menu.addAction("Place a location", lambda: self.draw("point"))
        menu.addAction("Outline an area", lambda: self.draw("outline"))
        menu.addAction("A line to test nearness to", lambda: self.draw("line"))
        menu.addSeparator()
        menu.addAction("New plan from a picture…", lambda: self.plan_asked.emit(""))
        self._again = menu.addAction("Calibrate this plan again…", self.calibrate_again)
        made.setMenu(menu)
        made.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        return made

    def draw(self, what: str) -> None:
        """Let the person draw a "point", a "line" or an "outline" on the plan."""
        self._asked = what
        self.view.draw(what)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)
        self._said.setText(_HOW_DRAWN[what])
        self.coordinates.clear()
        self.coordinates.show()

    def show_level(self, name: str) -> None:
        """Show a level or side of the site."""
        self._levels.setCurrentText(name)

    def next_level(self) -> None:
        """Show the next level or side, after the last the first."""
        number = self._levels.count()
        if number:
            self._levels.setCurrentIndex((self._levels.currentIndex() + 1) % number)

    def calibrate_again(self) -> None:
        """Ask for the plan that is shown to be calibrated again; for a new one where none is."""
        sheet = self.view.site.sheet
        self.plan_asked.emit(sheet.file if sheet else "")

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave what is drawn with Esc, from the line of coordinates too."""
        if watched is not self.coordinates or event.type() != QEvent.Type.KeyPress:
            return False
        left = isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape
        if left:
            self.view.draw("")
            self._end_drawing()
        return left

    def _on_coordinates(self) -> None:
        """Set the points that are typed; an empty line closes the outline."""
        text = self.coordinates.text().strip()
        if not text:
            self.view.finish()
            return
        try:
            points = read_line(text)
        except NotUnderstoodError as wrong:
            self._bench.refused.emit(str(wrong))
            return
        self.coordinates.clear()
        for x, y in points:
            self.view.set_point(x, y)

    def _end_drawing(self) -> None:
        held = self.coordinates.hasFocus()
        self.coordinates.hide()
        if held:
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)
        self._on_hovered("")

    def _on_drawn(self, points: tuple[tuple[float, float], ...]) -> None:
        self._end_drawing()
        level = {"level": name} if (name := self._levels.currentText()) else {}
        if self._asked == "point":
            x, y = points[0]
            area = {"area": ref} if (ref := self._area_at(x, y)) else {}
            self.placed.emit({"x": f"{x:g} m", "y": f"{y:g} m"} | area | level)
        elif self._asked == "line":
            self.lined.emit(points)
        else:
            outline = "; ".join(f"{x:g} {y:g}" for x, y in points)
            self.outlined.emit({"outline": outline} | level)

    def _area_at(self, x: float, y: float) -> str:
        """Return the smallest area that a point lies in, or ""."""
        at = self.view.mapFromScene(scene_point(x, y))
        return self.view.area_at(at)

    def _on_changed(self) -> None:
        names = levels_of(self._bench.dossier)
        self._levels.blockSignals(True)
        kept = self._levels.currentText()
        self._levels.clear()
        self._levels.addItems(names)
        self._levels.setCurrentText(kept)
        self._levels.blockSignals(False)
        self._levels.setVisible(len(names) > 1)
        self._show()

    def _show(self) -> None:
        """Show the level; what was found at its places follows when it is known."""
        level = self._levels.currentText()
        if level not in self._questions:
            self._questions[level] = partial(site_of, level=level)
        found = self._bench.answers.ask(self._questions[level])
        self._show_site(found or site_of(self._bench.dossier, level, tested=False))

    def _on_ready(self, question: object) -> None:
        if question is self._questions.get(self._levels.currentText()):
            self._show()

    def _show_site(self, site: Site) -> None:
        self.view.system = self._bench.showing.system
        self.view.show_site(site, self._picture_of(site))
        self._again.setEnabled(site.sheet is not None)
        self._legend.show_site(site, self._bench.showing, plane_names(self._bench.dossier, site))
        self._on_hovered("")
        self._mark()

    def _picture_of(self, site: Site) -> QPixmap | None:
        path = self._bench.case.original(site.sheet.file) if site.sheet else None
        if path is None:
            return None
        key = (path, is_dark(self))
        if key not in self._pictures:
            self._pictures[key] = _read_drawing(*key)
        picture = self._pictures[key]
        return None if picture.isNull() else picture

    def _mark(self) -> None:
        """Mark what is looked at and what is lit; a place is shown with all that lies in it."""
        bench, shown = self._bench, self._bench.selection.focus.places
        if shown:
            areas = self._within(shown)
            shown |= areas | {one.ref for one in self.view.site.spots if one.area in areas}
        lit: set[str] = set()
        for source in bench.selection.sources:
            record = bench.dossier.resolve(source)
            lit |= (bench.index.places_of(record) or frozenset()) if record else frozenset()
        self.view.mark(shown, frozenset(lit))

    def _within(self, places: frozenset[str]) -> frozenset[str]:
        """Return the areas that lie in one of `places`."""
        index, areas = self._bench.index, self._bench.dossier.all(Area)
        return frozenset(one.ref for one in areas if places & (index.places_of(one) or frozenset()))

    def _on_chosen(self, places: frozenset[str], add: bool) -> None:
        same = places == self._bench.selection.focus.places
        self._bench.selection.show_places(frozenset() if same and not add else places, add=add)

    def _on_hovered(self, ref: str) -> None:
        self._said.setText(self._words(ref) or self._resting_words())
        self._said.setToolTip(self._said.text())

    def _words(self, ref: str) -> str:
        spot = next((one for one in self.view.site.spots if one.ref == ref), None)
        if spot:
            return self._spot_words(spot)
        area = self._bench.dossier.area(ref) if ref else None
        return f"{area.ref} · {area.name} · {area.condition}" if area else ""

    def _spot_words(self, spot: Spot) -> str:
        said = [spot.ref, spot.area, str(spot.condition)]
        if spot.mpa is not None:
            said.append(self._bench.showing.stress(spot.mpa, bound=_bound(spot)))
        if spot.plane:
            area = self._bench.dossier.area(spot.area)
            system = self._bench.dossier.system_of(area)
            said.append(self._bench.dossier.plane_name(spot.plane, system))
        return " · ".join(said)

    def _resting_words(self) -> str:
        site = self.view.site
        if not (site.areas or site.spots or site.sheet):
            return "Nothing is placed yet: Draw begins a plan, an area or a location"
        missing = site.unplaced
        if not missing:
            return "Click a place or an area to narrow everything to it"
        return f"{len(missing)} not on the plan: {', '.join(missing[:6])}"


def _read_drawing(path: "Path", dark: bool) -> QPixmap:
    """Return a drawing as quiet lines on the paper of the window."""
    reader = QImageReader(str(path))
    reader.setAutoTransform(True)
    image = reader.read().convertToFormat(QImage.Format.Format_Grayscale8)
    if dark:
        image.invertPixels()
    lines = QPixmap(image.size())
    lines.fill(Qt.GlobalColor.transparent)
    painter = QPainter(lines)
    painter.setOpacity(_DRAWING)
    painter.drawImage(0, 0, image)
    painter.end()
    return lines


def _bound(spot: Spot) -> Bound:
    if spot.at_most:
        return Bound.AT_MOST
    return Bound.AT_LEAST if spot.plane and spot.plane.in_glue else Bound.NONE
