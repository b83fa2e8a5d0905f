"""The figures of the chapter that is open, one at a time, lit by the selection and picked from."""

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QHBoxLayout,
    QScrollArea,
    QStackedLayout,
    QToolButton,
    QWidget,
)

from workbench.records.codes import Chapter
from workbench.ui.bench import Bench
from workbench.ui.figures.catalogue import FigureChoice, Scene, figures_of
from workbench.ui.parts import bare_column, follow_with_tab, label, tool
from workbench.ui.theme import is_dark, step

if TYPE_CHECKING:
    from workbench.ui.figures.canvas import FigureCanvas

_REPORT_WIDTH_MM = 160.0
_ROOMY_TEXT_PT = 7.8
_SMALLEST_PT = 7.0


class FigurePanel(QWidget):
    """Shows a figure of the chapter, drawn anew when its records or what is lit change.

    Attributes:
        enlarged: The person wants the figure to take all the room, or no longer.
    """

    enlarged = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show nothing until a chapter is opened."""
        super().__init__(parent)
        self._bench = bench
        self._choices: tuple[FigureChoice, ...] = ()
        self._chosen: dict[Chapter, FigureChoice] = {}
        self._chapter: Chapter | None = None
        self._canvas: FigureCanvas | None = None
        self._names = QHBoxLayout()
        self._group = QButtonGroup(self)
        self._list = QComboBox(self)
        self._waiting = label("", "quiet", self)
        self._room = QScrollArea(self)
        self._room.setWidgetResizable(True)
        self._room.setMinimumHeight(1)
        self._waiting.setMinimumSize(1, 1)
        self._room.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.large = tool("Large", "Give the figure all the room (F11)", self.enlarged.emit, self)
        self.large.setCheckable(True)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._lay_out()
        self._list.activated.connect(lambda at: self.show_figure(self._choices[at]))
        self._soon.timeout.connect(self._draw)
        for signal in (bench.changed, bench.units_changed, bench.selection.focused):
            signal.connect(self._redraw_soon)
        bench.selection.lit.connect(self._redraw_soon)
        bench.answers.ready.connect(self._on_ready)
        bench.answers.failed.connect(self._on_failed)

    @property
    def choice(self) -> FigureChoice | None:
        """The figure that is shown."""
        return self._chosen.get(self._chapter) if self._chapter else None

    def open_chapter(self, chapter: Chapter) -> None:
        """Offer the figures of a chapter and show the one that was shown there last."""
        if chapter is self._chapter:
            return
        self._chapter = chapter
        self._choices = figures_of(chapter)
        self._name_choices()
        if self._choices:
            self.show_figure(self._chosen.get(chapter, self._choices[0]))

    def show_figure(self, choice: FigureChoice) -> None:
        """Show one figure."""
        self._chosen[choice.chapter] = choice
        for button in self._group.buttons():
            button.setChecked(button.text() == choice.title)
        self._list.setCurrentText(choice.title)
        self._redraw_soon()

    def showEvent(self, event: QShowEvent) -> None:
        """Draw what was not drawn while nobody saw it."""
        super().showEvent(event)
        self._redraw_soon()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Name the figures beside each other, or in a list where there is no room."""
        super().resizeEvent(event)
        self._fit_names()

    def _fit_names(self) -> None:
        buttons = self._group.buttons()
        gap, margin = self._names.spacing(), self._names.contentsMargins()
        need = sum(one.sizeHint().width() + gap for one in (*buttons, self.large))
        fits = need + margin.left() + margin.right() <= self.width()
        for button in buttons:
            button.setVisible(fits)
        self._list.setVisible(not fits)

    def _redraw_soon(self) -> None:
        self._soon.start()

    def _on_ready(self, question: object) -> None:
        if self.choice and self.choice.question is question:
            self._redraw_soon()

    def _on_failed(self, question: object, wrong: Exception) -> None:
        if self.choice and self.choice.question is question:
            self._say(f"The figure cannot be drawn: {wrong}")

    def _draw(self) -> None:
        choice = self.choice
        if choice is None or not self.isVisible():
            return
        answer: Any = None
        if choice.question is not None:
            answer = self._bench.answers.ask(choice.question)
            if answer is None:
                if self._canvas is None:
                    self._say("Computing…")
                return
        self._paint(choice, answer)

    def _paint(self, choice: FigureChoice, answer: Any) -> None:  # noqa: ANN401 - any answer
        from workbench.figures.look import Look
        from workbench.figures.marks import Selection
        from workbench.ui.figures.canvas import FigureCanvas

        if self._canvas is None:
            self._canvas = FigureCanvas(self._bench, self)
            self._room.setWidget(self._canvas)
        bench = self._bench
        look = Look(dark=is_dark(self), showing=bench.showing, text_pt=self._text_pt())
        selection = Selection(
            frozenset(bench.selection.sources), bench.selection.focus.places,
            bench.selection.focus.plane,
        )  # fmt: skip
        scene = Scene(bench.dossier, answer, look, selection, bench.case.original)
        self._canvas.show_figure(choice, scene)
        self._stack.setCurrentWidget(self._room)

    def _text_pt(self) -> float:
        """Return the size of the window's text, as far as the figure has the width for it."""
        paper = self.width() / self.logicalDpiX() * 25.4 / _REPORT_WIDTH_MM
        fits = _ROOMY_TEXT_PT * paper
        return max(_SMALLEST_PT, min(self.fontInfo().pointSizeF() * 0.9, fits))

    def _say(self, words: str) -> None:
        self._waiting.setText(words)
        self._stack.setCurrentWidget(self._waiting)

    def _name_choices(self) -> None:
        for old in self._group.buttons():
            self._group.removeButton(old)
            self._names.removeWidget(old)
            old.hide()
            old.deleteLater()
        for at, choice in enumerate(self._choices):
            made = QToolButton(self)
            made.setText(choice.title)
            made.setCheckable(True)
            made.setProperty("flat", True)
            made.clicked.connect(lambda _on=False, one=choice: self.show_figure(one))
            self._group.addButton(made)
            self._names.insertWidget(at, made)
        self._list.clear()
        self._list.addItems([one.title for one in self._choices])
        follow_with_tab(self.large, self._list, *self._group.buttons())
        self._fit_names()

    def _lay_out(self) -> None:
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._names.setContentsMargins(step(self), step(self, 0.5), step(self), 0)
        self._names.setSpacing(step(self, 0.25))
        self._list.setAccessibleName("Figures")
        self._list.hide()
        self._names.addWidget(self._list)
        self._names.addStretch()
        self._names.addWidget(self.large)
        self._stack = QStackedLayout()
        self._stack.addWidget(self._waiting)
        self._stack.addWidget(self._room)
        whole = bare_column(self)
        whole.addLayout(self._names)
        whole.addLayout(self._stack, 1)
