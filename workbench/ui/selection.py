"""What is chosen on the screen; every table, figure and instrument follows this one object."""

from collections.abc import Iterable

from PySide6.QtCore import QObject, Signal

from workbench.desk.questions.focus import Focus
from workbench.records import Plane, Source


class Selection(QObject):
    """Where and which layer is looked at, and which records are lit.

    Attributes:
        focused: The places or the plane changed: tables and figures narrow.
        lit: The records changed: rows, points, places and planes light up.
    """

    focused = Signal()
    lit = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Choose nothing."""
        super().__init__(parent)
        self._focus = Focus()
        self._sources: tuple[Source, ...] = ()

    @property
    def focus(self) -> Focus:
        """The part of the case that is looked at."""
        return self._focus

    @property
    def sources(self) -> tuple[Source, ...]:
        """The records that are lit."""
        return self._sources

    def show_places(self, places: Iterable[str], *, add: bool = False) -> None:
        """Look at `places`; with `add`, put in those that are missing and take out the others."""
        wanted = frozenset(places)
        chosen = self._focus.places ^ wanted if add else wanted
        self._look(Focus(chosen, self._focus.plane))

    def show_plane(self, plane: Plane | None) -> None:
        """Look at `plane`; at the whole stack for None or when the plane is looked at already."""
        self._look(Focus(self._focus.places, None if plane == self._focus.plane else plane))

    def light(self, sources: Iterable[Source]) -> None:
        """Light up the records of `sources`."""
        wanted = tuple(dict.fromkeys(sources))
        if wanted != self._sources:
            self._sources = wanted
            self.lit.emit()

    def clear(self) -> None:
        """Show everything and light nothing."""
        self.light(())
        self._look(Focus())

    def _look(self, focus: Focus) -> None:
        if focus != self._focus:
            self._focus = focus
            self.focused.emit()
