"""What the pages of the laboratory share: the answer they show, and how they wait for it."""

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from workbench.records import KnownError, When
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import label

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbench.analysis.laboratory.found import Laboratory
    from workbench.desk.acts import Act


class LaboratoryPage(Page):
    """A page filled from what the laboratory found."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Wait for the answer."""
        super().__init__(bench, parent)
        self.count = label("", "quiet", self)
        self.wrong = label("", "wrong", self)
        self.wrong.setWordWrap(True)
        self.wrong.setVisible(False)
        bench.answers.ready.connect(self._on_ready)
        bench.answers.failed.connect(self._on_failed)

    def fill(self) -> None:
        """Ask, and show the answer when it has come."""
        found = self.bench.answers.ask(self.bench.laboratory)
        if found is None:
            self.count.setText("Reading the originals…")
            return
        self.say_wrong("; ".join(found.problems))
        self.show_found(found)

    def show_found(self, found: "Laboratory") -> None:
        """Show what was found; pages say how."""

    def say_wrong(self, words: str) -> None:
        """Say what is wrong, or nothing."""
        self.wrong.setText(words)
        self.wrong.setVisible(bool(words))

    def do(self, made: "Callable[[], Act]", done: str) -> bool:
        """Do the act that `made` returns and tell it; a refusal is told in words."""
        try:
            act = made()
        except (KnownError, ValueError) as wrong:
            self.bench.refused.emit(str(wrong))
            return False
        if self.bench.do(act):
            self.bench.told.emit(done)
            return True
        return False

    def today(self) -> When:
        """Return the day of what is recorded now."""
        return When(date.today().isoformat())  # noqa: DTZ011 - the day on the person's calendar

    def _on_ready(self, question: object) -> None:
        if question is self.bench.laboratory:
            self.renew()

    def _on_failed(self, question: object, wrong: Exception) -> None:
        if question is self.bench.laboratory:
            self.say_wrong(f"The originals cannot be evaluated: {wrong}")
