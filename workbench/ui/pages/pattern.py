"""What the failure follows: every grouping with its counts, and nearness to a line on the plan."""

from collections.abc import Iterator, Sequence
from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.analysis.comparison.words import chance
from workbench.desk.questions import findings
from workbench.desk.questions.pattern import near_alike, near_to, read_line, share_failing
from workbench.records import NotUnderstoodError, Source
from workbench.trade.showing import LENGTH, Showing
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import bare_column, button, elided, label, parted
from workbench.ui.reading import Reading, heading, paragraph
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.analysis.pattern.results import Pattern, SpatialDependence, Tally
    from workbench.analysis.pattern.space import Nearness


class PatternPage(Page):
    """Groupings at the left, the counts of the one chosen at the right, nearness below.

    Attributes:
        asked: The person asks how a record is known.
    """

    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the groupings to be tested."""
        super().__init__(bench, parent)
        self._said = elided("quiet", self)
        self.list = LinesView(
            "What the failure follows",
            ("grouping", "fail", "p", "corrected", "pulls p"), self,
        )  # fmt: skip
        self.counts = Reading("Counts of the grouping", self)
        self.line = QLineEdit(self)
        self.thing = QLineEdit(self)
        self.near = label("", "", self)
        self._lay_out()
        self.list.selectionModel().currentRowChanged.connect(lambda _now, _before: self._on_row())
        self.counts.asked.connect(self.asked)
        bench.answers.ready.connect(self._on_ready)
        bench.answers.failed.connect(self._on_failed)

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The grouping that is chosen."""
        one = self._pattern()
        return (one.name, one.verdict, one.sources) if one and one.sources else None

    def fill(self) -> None:
        """Show the groupings once they are tested."""
        found = self.bench.answers.ask(findings.patterns)
        if found is None:
            self._said.setText("Testing the groupings…")
            return
        kept = max(self.list.currentIndex().row(), 0)
        self.list.show_lines([_line(one) for one in found], (27, 7, 7, 9, 8))
        clean = sum(1 for one in found if one.clean)
        parted = f"{clean} of them part" if clean else "none parts"
        words = f"{len(found)} groupings looked at; {parted} failing from sound areas without rest"
        self._said.setText(words if found else "No grouping of the areas takes two values.")
        if found:
            self.list.setCurrentIndex(self.list.lines.index(min(kept, len(found) - 1), 0))
        self._on_row()

    def enter(self) -> None:
        """Go to the groupings."""
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_line(self, points: Sequence[tuple[float, float]]) -> None:
        """Test nearness to a line that was drawn on the plan."""
        self.line.setText("; ".join(f"{x:g} {y:g}" for x, y in points))
        self.test_nearness()

    def test_nearness(self) -> None:
        """Test whether failing places lie nearer to the line that is written."""
        try:
            points = read_line(self.line.text())
        except NotUnderstoodError as wrong:
            self.bench.refused.emit(str(wrong))
            self.line.setFocus()
            return
        thing = self.thing.text().strip() or "the line"
        self.near.setText(_near_words(near_to(self.bench.dossier, thing, points), thing,
                                      self.bench.showing))  # fmt: skip

    def _pattern(self) -> "Pattern | None":
        from workbench.analysis.pattern.results import Pattern

        line = self.list.lines.line_at(self.list.currentIndex().row())
        return line.behind if line and isinstance(line.behind, Pattern) else None

    def _on_row(self) -> None:
        one = self._pattern()
        alike = self.bench.answers.ask(near_alike)
        said = list(_counts(one)) if one else []
        self.counts.show_paragraphs(
            [*said, *_alike(alike[0] if alike else None, known=bool(alike))]
        )
        if one:
            refs = (ref for tally in one.tallies for ref in (*tally.failing, *tally.holding))
            self.bench.selection.light(Source("area", ref) for ref in refs)

    def _on_ready(self, question: object) -> None:
        if question in (findings.patterns, near_alike):
            self.renew()

    def _on_failed(self, question: object, wrong: Exception) -> None:
        if question is findings.patterns:
            self._said.setText(f"The groupings cannot be tested: {wrong}")

    def _lay_out(self) -> None:
        head = self.head("What the failure follows", self._said)
        halves = parted(
            self, Qt.Orientation.Horizontal, (self.list, self.counts), grows=0, steps=(60, 36)
        )
        self.list.setMinimumWidth(step(self, 47))
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addWidget(halves, 1)
        whole.addLayout(self._foot())

    def _foot(self) -> QVBoxLayout:
        self.line.setPlaceholderText("points in metres, as “12 4; 12 30”")
        self.line.setAccessibleName("Line on the plan, in metres")
        self.thing.setPlaceholderText("what lies there: a drain, a door, a joint")
        self.thing.setAccessibleName("What lies along the line")
        for field in (self.line, self.thing):
            field.returnPressed.connect(self.test_nearness)
        row = QHBoxLayout()
        row.setSpacing(step(self))
        row.addWidget(label("Nearer to", "quiet", self))
        row.addWidget(self.thing, 2)
        row.addWidget(self.line, 2)
        row.addWidget(button("Test", self.test_nearness, self, tip="Test nearness to the line"))
        self.near.setWordWrap(True)
        self.near.setText("Draw a line on the plan (Where, Draw), or write its points.")
        foot = QVBoxLayout()
        foot.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        foot.addLayout(row)
        foot.addWidget(self.near)
        return foot


def _line(one: "Pattern") -> Line:
    failing = sum(len(tally.failing) for tally in one.tallies)
    cells = (one.name, f"{failing} of {one.areas}", chance(one.p), chance(one.p_corrected))
    return Line((*cells, chance(one.p_readings)), one)


def _counts(one: "Pattern") -> Iterator[str]:
    """Return the counts of a grouping, with what it cannot be told apart from."""
    yield heading(one.name)
    for tally in one.tallies:
        yield f"<p><b>{escape(tally.value)}</b>: {escape(_tallied(tally))}</p>"
    if one.same_as:
        yield paragraph(
            f"Not told apart from {', '.join(one.same_as)}: they part the areas in the same way.",
            "wrong",
        )
    if one.p_readings is not None:
        within = f" within {', '.join(one.strata)}" if one.strata else ""
        yield paragraph(f"Permuting the pulls{within}: p {chance(one.p_readings)}.")
    yield paragraph(f"{one.verdict[:1].upper()}{one.verdict[1:]}. A lead, not a cause.", "quiet")


def _tallied(tally: "Tally") -> str:
    """Return how many areas with one value fail, with its interval, and what their pulls did."""
    share, areas = share_failing(tally), len(tally.failing) + len(tally.holding)
    said = f"{len(tally.failing)} of {areas} areas fail"
    if share:
        said += f" (95 % interval {100 * share.low:.0f} to {100 * share.high:.0f} %)"
    named = [
        f"{word} {', '.join(refs)}"
        for word, refs in (("failing", tally.failing), ("sound", tally.holding))
        if refs
    ]
    said += f"; {'; '.join(named)}" if named else ""
    if tally.broken is None:
        return f"{said}. No pulls."
    return f"{said}. Of {tally.pulls} pulls {100 * tally.broken:.0f} % broke in the failing plane."


def _alike(found: "SpatialDependence | None", *, known: bool) -> Iterator[str]:
    if not known:
        return
    if found is None:
        yield paragraph("Too few places with coordinates to say whether near ones read alike.",
                        "quiet")  # fmt: skip
        return
    alike = "read alike" if found.p < 0.05 else "are not shown to read alike"
    expected = f"{found.expected:.2f}".replace("-", "−")
    yield paragraph(
        f"Near places {alike}: Moran's I {found.moran:.2f} over {found.places} places, "
        f"{expected} where they are not alike, p {chance(found.p)}.",
        "quiet",
    )


def _near_words(found: "Nearness | None", thing: str, showing: Showing) -> str:
    if found is None:
        return "Both failing and sound places with coordinates are needed."
    shift = found.shift
    way = "nearer to" if shift.value < 0 else "farther from"
    apart = showing.value(LENGTH, abs(shift.value))
    said = f"Failing places lie {apart} {way} {thing} than the others"
    if shift.low is not None and shift.high is not None:
        low, high = (showing.value(LENGTH, one) for one in (shift.low, shift.high))
        said += f" (difference {low} to {high})"
    return (
        f"{said}; p {chance(found.p)}, {found.failing} failing and {found.others} other places. "
        "A line drawn after the places were seen to fail proves nothing by its p."
    )
