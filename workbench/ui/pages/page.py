"""What every page does: it follows the case while it is seen, and catches up when it is shown."""

from collections.abc import Iterable

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from workbench.records import Source
from workbench.ui.bench import Bench
from workbench.ui.flow import Flow, flow
from workbench.ui.parts import label
from workbench.ui.theme import step

READ = 72
"""Steps of width below which tables, words and curves are too narrow to be read with ease."""


class Page(QWidget):
    """One page of the centre.

    Attributes:
        alone: Whether it never has where and which layer beside it.
    """

    alone = False

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page of the case on `bench`; it is filled when it is first shown."""
        super().__init__(parent)
        self.bench = bench
        self._stale = True
        bench.changed.connect(self.renew)
        bench.units_changed.connect(self.renew)

    @property
    def width_needed(self) -> int:
        """The least width in pixels at which it is read with ease; all of it is seen."""
        return max(self.minimumSizeHint().width(), step(self, READ))

    @property
    def height_needed(self) -> int:
        """The least height in pixels at which all of it is seen at the width it has."""
        return max(self.minimumSizeHint().height(), self.heightForWidth(self.width()))

    def heightForWidth(self, width: int) -> int:
        """Return the least height at a width: only below it is the page scrolled."""
        layout = self.layout()
        if layout is None or not layout.hasHeightForWidth():
            return -1
        return layout.minimumHeightForWidth(width)

    @property
    def tab_stops(self) -> tuple[QWidget, ...]:
        """Its parts in the order of Tab, where that is not the order in which they were made."""
        return (self,)

    @property
    def current(self) -> Source | None:
        """The record that the page is about now; pages with records say which."""
        return None

    @property
    def finding(self) -> tuple[str, str, tuple[Source, ...]] | None:
        """The finding under the cursor: title, words, sources; pages with findings say which."""
        return None

    def head(self, title: str, *beside: QWidget, right: Iterable[QWidget] = ()) -> Flow:
        """Return the line at the top: what the page is, what is said of it, what can be done."""
        head = flow(step(self), (label(title, "title", self), *beside), right)
        head.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        return head

    def renew(self) -> None:
        """Fill the page anew now, or when it is next seen."""
        self._stale = True
        if self.isVisible():
            self._catch_up()

    def showEvent(self, event: QShowEvent) -> None:
        """Fill the page if anything changed while it was not seen."""
        super().showEvent(event)
        self._catch_up()

    def fill(self) -> None:
        """Show the case as it is now; pages say how."""

    def show_source(self, source: Source) -> None:
        """Bring the record that `source` names into sight; pages with records say how."""

    def add(self) -> None:
        """Begin something new; pages that add say what."""

    def save(self) -> None:
        """Save what is written; pages that are written on say what."""

    def withdraw(self) -> None:
        """Withdraw what is chosen; pages with records ask why."""

    def go_to_filter(self) -> None:
        """Go to the filter; pages with one say where."""

    def close_down(self) -> None:
        """Stop what runs beside the page; pages with such work say how."""

    def enter(self) -> None:
        """Take the keyboard's focus."""
        self.setFocus()

    def _catch_up(self) -> None:
        if self._stale:
            self._stale = False
            self.fill()
