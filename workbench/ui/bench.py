"""What all panels of the window share: the case, its records, the selection, and the units."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from workbench.desk.questions.causes import causes_in
from workbench.desk.questions.focus import FocusIndex
from workbench.desk.questions.laboratory import laboratory
from workbench.desk.questions.open_points import OpenPoint
from workbench.desk.questions.search import SearchIndex
from workbench.records import Dossier, KnownError
from workbench.trade.showing import Showing, System
from workbench.ui.answers import Answers
from workbench.ui.drafts import Drafts
from workbench.ui.selection import Selection

if TYPE_CHECKING:
    from workbench.analysis.laboratory.found import Laboratory
    from workbench.desk.acts import Act
    from workbench.desk.case import Case
    from workbench.reasoning import Reasoning


class Bench(QObject):
    """One open case on the screen.

    Attributes:
        changed: The records changed.
        units_changed: Numbers are to be shown in other units.
        told: Something to tell the person, in a sentence.
        refused: An act was refused, in a sentence.
    """

    changed = Signal()
    units_changed = Signal()
    told = Signal(str)
    refused = Signal(str)
    _acted = Signal()

    def __init__(self, case: "Case", drafts: Drafts, parent: QObject | None = None) -> None:
        """Put `case` on the bench, with the `drafts` that were left of it."""
        super().__init__(parent)
        self.case = case
        self.drafts = drafts
        self.selection = Selection(self)
        self.answers = Answers(case.dossier, self)
        self._index = FocusIndex(case.dossier)
        self._search = SearchIndex(case.dossier)
        self._showing = Showing(System.of(case.dossier.entry("units")))
        self._unwatch = case.watch(self._on_act)
        self._undoable = partial(_undoable, case)
        self._open_points = partial(_open_points, case)
        self._laboratory = partial(laboratory, original=case.original)
        self._acted.connect(self._on_case_changed)

    @property
    def dossier(self) -> Dossier:
        """The records as they stand."""
        return self.case.dossier

    @property
    def index(self) -> FocusIndex:
        """Which record speaks of which place and plane."""
        return self._index

    @property
    def search(self) -> SearchIndex:
        """What the records say, for searching."""
        return self._search

    @property
    def showing(self) -> Showing:
        """The units that numbers are shown in."""
        return self._showing

    @property
    def open_points(self) -> Callable[[Dossier], tuple[OpenPoint, ...]]:
        """The question what is open in the case and its report, to be asked of `answers`."""
        return self._open_points

    @property
    def undoable(self) -> Callable[[Dossier], tuple[str, str]]:
        """The question what would be undone and done again, to be asked of `answers`."""
        return self._undoable

    @property
    def laboratory(self) -> "Callable[[Dossier], Laboratory]":
        """The question what the laboratory found, to be asked of `answers`."""
        return self._laboratory

    @property
    def causes(self) -> "Callable[[Dossier], Reasoning]":
        """The question of causes in the units that are shown, to be asked of `answers`."""
        return causes_in(self._showing.system)

    def show_in(self, system: System) -> None:
        """Show numbers in the units of `system`."""
        if system != self._showing.system:
            self._showing = Showing(system)
            self.units_changed.emit()

    def do(self, act: "Act") -> bool:
        """Do `act` and return whether it was done; a refusal is told in words."""
        return self._tried(lambda: self.case.do(act))

    def undo(self) -> bool:
        """Take back the last act that can be taken back."""
        return self._tried(self.case.undo)

    def redo(self) -> bool:
        """Do again what was taken back last."""
        return self._tried(self.case.redo)

    def close(self) -> None:
        """Stop what is being computed and let go of the case."""
        self._unwatch()
        self.answers.close()
        self.case.close()

    def _tried(self, doing: Callable[[], object]) -> bool:
        try:
            doing()
        except KnownError as wrong:
            self.refused.emit(str(wrong))
            return False
        return True

    def _on_act(self, _nouns: frozenset[str]) -> None:
        """Come back to the screen's thread, wherever the act was done."""
        self._acted.emit()

    def _on_case_changed(self) -> None:
        self._index = FocusIndex(self.dossier)
        self._search = SearchIndex(self.dossier)
        self.answers.renew(self.dossier)
        self.changed.emit()


def _open_points(case: "Case", _dossier: Dossier) -> tuple[OpenPoint, ...]:
    from workbench.desk.reporting import every_open_point

    return every_open_point(case)


def _undoable(case: "Case", _dossier: Dossier) -> tuple[str, str]:
    """Return the first sentence of what can be undone and of what can be done again."""
    done, undone = case.undo_list, case.redo_list
    return (done[0] if done else "", undone[0] if undone else "")
