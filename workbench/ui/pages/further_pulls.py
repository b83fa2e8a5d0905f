"""Further pulls: how many would tell what, where to make them, and the field book for them."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDoubleSpinBox,
    QHBoxLayout,
    QLineEdit,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from workbench.desk.questions import findings
from workbench.desk.questions.extent import (
    difference,
    held_against,
    plane_words,
    precision,
    read_stress,
    required,
)
from workbench.records import Area, KnownError, Location, Source
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.flow import flow
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, label, named, overline, parted
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.strength.results import Group

_NONE = "unknown"
"""Where nothing broke in a plane, no number of pulls is known to tell its strength."""
_SAFETY = (
    "Pulls load the floor or the wall suddenly, and cutting raises dust: eye protection, dust "
    "extraction and the local rules for the place come first."
)


class FurtherPullsPage(Page):
    """Planes with what more pulls would tell, and areas with how many to draw in each.

    Attributes:
        planned: Places to be shown on the plan, in metres.
    """

    planned = Signal(tuple)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Plan nothing yet."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self._said = label("", "quiet", self)
        self.words = label("", "", self)
        self.groups = LinesView(
            "Planes, and what more pulls would tell",
            ("plane", "condition", "broke here", "median", "against it", "further pulls",
             "each side"), self,
        )  # fmt: skip
        self.width_ratio = _ratio("Wanted upper over lower end", 1.5, self)
        self.medians_ratio = _ratio("Ratio of medians to be shown", 2.0, self)
        self.required = QLineEdit(self)
        self.wanted = QLineEdit(self)
        self.seed = QSpinBox(self)
        self._drawn = label("", "", self)
        self._write = button("Write the field book…", self.ask_book, self, main=True)
        self._places: tuple[Location, ...] = ()
        self._lay_out()
        for box in (self.width_ratio, self.medians_ratio):
            box.valueChanged.connect(lambda _value: self.fill())
        self.required.editingFinished.connect(self.fill)
        self.groups.selectionModel().currentRowChanged.connect(lambda _now, _before: self._light())
        bench.answers.ready.connect(self._on_ready)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The plane that is chosen."""
        one = self._group()
        return (f"{one.condition}, {one.plane_name}", "", one.sources) if one else None

    def fill(self) -> None:
        """Show what more pulls would tell, once the present ones are weighed."""
        found = self.bench.answers.ask(findings.strength)
        if found is None:
            self._said.setText("Weighing the present pulls…")
            return
        kept = max(self.groups.currentIndex().row(), 0)
        lines = [self._line(one) for one in found.groups if one.n]
        self.groups.show_lines(lines, (26, 11, 10, 20, 22, 14, 12))
        self._said.setText(f"{len(found.pulls)} pulls count so far")
        if lines:
            self.groups.setCurrentIndex(self.groups.lines.index(min(kept, len(lines) - 1), 0))

    def enter(self) -> None:
        """Go to the planes."""
        self.groups.setFocus(Qt.FocusReason.OtherFocusReason)

    def draw(self) -> bool:
        """Draw places at random in the areas that are written, and show them on the plan."""
        from workbench.analysis.planning import plan_points

        try:
            wanted = read_wanted(self.wanted.text())
            self._places = plan_points(self.bench.dossier, wanted, seed=self.seed.value())
        except ValueError as wrong:
            self.bench.refused.emit(str(wrong))
            self.wanted.setFocus()
            return False
        points = tuple((one.x.value, one.y.value) for one in self._places if one.x and one.y)
        self.planned.emit(points)
        names = ", ".join(one.ref for one in self._places)
        self._drawn.setText(f"{len(points)} places, crosses on the plan: {names}")
        self._write.setEnabled(bool(points))
        return True

    def ask_book(self) -> None:
        """Ask where the field book for the planned pulls goes."""
        name = self.bench.case.folder.parent / "further-pulls.xlsx"
        self.ask.new_file(
            self, "Field book for further pulls", "Workbooks (*.xlsx)", name, self.write
        )

    def write(self, path: Path) -> None:
        """Write the field book that holds the planned places."""
        from workbench.desk.planning import write_plan_book

        if not self.draw():
            return
        try:
            made = write_plan_book(
                path, self.bench.dossier, read_wanted(self.wanted.text()), seed=self.seed.value()
            )
        except (KnownError, OSError) as wrong:
            self.bench.refused.emit(str(wrong))
            return
        self.bench.told.emit(f"{path} is written, with {len(made)} places to pull at.")

    # -- inside

    def _group(self) -> "Group | None":
        from workbench.analysis.strength.results import Group

        line = self.groups.lines.line_at(self.groups.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Group) else None

    def _stress(self) -> float | None:
        """Return the strength to hold planes against; None for none, told where it is no stress."""
        try:
            return read_stress(self.required.text())
        except ValueError as wrong:
            self.bench.refused.emit(str(wrong))
            return None

    def _light(self) -> None:
        if one := self._group():
            self.bench.selection.light(one.sources)
        self.words.setText(self._told(one) if one else "")

    def _told(self, one: "Group") -> str:
        """Return what the present pulls say of a plane, and what more of them would."""
        narrow = precision(one, self.width_ratio.value())
        said = [f"{one.plane_name}, {one.condition}:"]
        said.append(plane_words(one, self.bench.showing, self._stress()))
        if narrow.present_ratio:
            said.append(f"The ends of the interval stand as {narrow.present_ratio:.2g} to 1.")
        said += narrow.remarks
        if sides := difference(one, self.medians_ratio.value()):
            said.append(
                f"{sides.each_side} on each side show the ratio of medians, if it is there, with a "
                f"chance of {sides.power:.0%}, at a risk of {sides.risk:.0%} of showing one that "
                "is not."
            )
        return " ".join(said)

    def _line(self, one: "Group") -> Line:
        from workbench.analysis.strength.words import strength_words

        showing = self.bench.showing
        narrow = precision(one, self.width_ratio.value()).further
        sides = difference(one, self.medians_ratio.value())
        tells = _NONE if narrow is None else "enough" if narrow == 0 else f"{narrow} more"
        stress = self._stress()
        beside = "" if stress is None else str(held_against(one, stress))
        broke = f"{one.broke_here + one.at_most} of {one.n}"
        told = (broke, strength_words(one, showing) or "–", beside, tells)
        return Line(
            (one.plane_name, str(one.condition), *told, str(sides.each_side) if sides else _NONE),
            one,
        )

    def _on_ready(self, question: object) -> None:
        if question is findings.strength:
            self.renew()

    def _lay_out(self) -> None:
        head = self.head("Further pulls", self._said)
        fields = (
            ("narrow each interval to a ratio of its ends of", self.width_ratio),
            ("show a ratio of medians of", self.medians_ratio),
            ("hold against", self.required),
        )
        asked = flow(step(self), [named(words, field, self) for words, field in fields])
        asked.setContentsMargins(step(self, 2), 0, step(self), step(self, 0.5))
        self.required.setText(str(required(self.bench.dossier) or ""))
        self.required.setPlaceholderText("a strength")
        self.required.setAccessibleName("Strength to hold the planes against")
        self.required.setMaximumWidth(step(self, 12))
        halves = parted(self, Qt.Orientation.Vertical, (self.groups, self._drawing()), grows=0)
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addLayout(asked)
        whole.addWidget(halves, 1)

    def _drawing(self) -> QWidget:
        areas = [one.ref for one in self.bench.dossier.all(Area) if one.outline]
        self.wanted.setPlaceholderText(f"area and number, as “{' 6; '.join(areas[:2] or 'B')} 6”")
        self.wanted.setAccessibleName("Areas with the number of places in each")
        self.wanted.returnPressed.connect(self.draw)
        self.seed.setRange(1, 999_999)
        self.seed.setValue(4624)
        self.seed.setAccessibleName("Number of the draw; the same number draws the same places")
        self._drawn.setWordWrap(True)
        self._write.setEnabled(False)
        row = QHBoxLayout()
        row.setSpacing(step(self))
        row.addWidget(self.wanted, 1)
        row.addWidget(label("draw", "quiet", self))
        row.addWidget(self.seed)
        row.addWidget(button("Show on the plan", self.draw, self))
        row.addWidget(self._write)
        safety = label(_SAFETY, "quiet", self)
        safety.setWordWrap(True)
        made = QWidget(self)
        inner = QVBoxLayout(made)
        inner.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        self.words.setWordWrap(True)
        self.words.setAccessibleName("What the pulls say of the plane chosen")
        inner.addWidget(self.words)
        inner.addWidget(overline("Where: places drawn at random within areas", self))
        inner.addLayout(row)
        inner.addWidget(self._drawn)
        inner.addWidget(safety)
        inner.addStretch()
        return made


def read_wanted(text: str) -> tuple[tuple[str, int], ...]:
    """Return the areas and numbers that "B3 6; B6 4" names.

    Raises:
        ValueError: It names no areas with numbers.
    """
    wanted = []
    for part in filter(str.strip, text.split(";")):
        ref, _, number = part.strip().rpartition(" ")
        if not ref or not number.isdecimal() or int(number) < 1:
            raise ValueError(f"“{part.strip()}” names no area and number; write “B3 6; B6 4”")
        wanted.append((ref.strip(), int(number)))
    if not wanted:
        raise ValueError("Name the areas and how many places in each, as “B3 6; B6 4”.")
    return tuple(wanted)


def _ratio(name: str, value: float, parent: QWidget) -> QDoubleSpinBox:
    made = QDoubleSpinBox(parent)
    made.setRange(1.05, 10)
    made.setSingleStep(0.1)
    made.setValue(value)
    made.setAccessibleName(name)
    made.setToolTip(name)
    return made
