"""What is shown: the places and the plane that everything is narrowed to, in words."""

from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.ui.bench import Bench
from workbench.ui.parts import button, elided, overline
from workbench.ui.theme import step


class FocusBar(QWidget):
    """Says "showing: Bay 3, C/D"; Esc clears it."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Follow the selection of `bench`."""
        super().__init__(parent)
        self._bench = bench
        self._words = elided("heading", self)
        self._lit = elided("quiet", self)
        self._clear = button("Show everything  Esc", bench.selection.clear, self)
        self._clear.setProperty("link", True)
        self.setAccessibleName("What is shown")
        self.setProperty("panel", "band")
        self.setMinimumHeight(self._clear.sizeHint().height() + step(self, 0.5))
        row = QHBoxLayout(self)
        row.setContentsMargins(step(self, 2), step(self, 0.25), step(self), step(self, 0.25))
        row.setSpacing(step(self))
        row.addWidget(overline("Showing", self))
        row.addWidget(self._words)
        row.addWidget(self._lit, 1)
        row.addWidget(self._clear)
        bench.selection.focused.connect(self._show)
        bench.selection.lit.connect(self._show)
        bench.changed.connect(self._show)
        bench.answers.ready.connect(self._on_ready)
        self._show()

    def _verdict(self) -> str:
        """Return what the evidence leads to, once the candidates are weighed."""
        found = self._bench.answers.ask(self._bench.causes)
        return found.verdict if found else ""

    def _on_ready(self, question: object) -> None:
        if question is self._bench.causes:
            self._show()

    def _show(self) -> None:
        selection = self._bench.selection
        focus = selection.focus
        self._words.setText(focus.words(self._bench.dossier) or "the whole case")
        number = len(selection.sources)
        first = str(selection.sources[0]).replace("_", " ") if number else ""
        lit = first if number == 1 else (f"{number} records lit" if number else "")
        at_rest = focus.everything and not number
        self._lit.setText(self._verdict() if at_rest else lit)
        self._lit.setToolTip(self._lit.text())
        self._clear.setVisible(not focus.everything or number > 0)
