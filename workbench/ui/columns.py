"""How the desk is divided: chapters, the page over what stands below it, the instruments."""

from collections.abc import Sequence

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from workbench.ui.parts import rule, scrolled
from workbench.ui.theme import step

_WIDTHS = ((23, 0), (94, 7), (43, 3))
"""Width of each column in steps, and its share of what is left over."""


_UPPER, _LOWER_LEAST = 0.56, 20
"""The page's part of the centre, and the least steps below it that show more than a strip."""
_LOWER_MOST = 0.62
"""Most of the height that the stack takes from the plan by itself."""


class Columns(QWidget):
    """Three columns whose borders a person moves.

    Attributes:
        across: The columns.
        instruments: The one at the right.
    """

    def __init__(self, parent: QWidget) -> None:
        """Divide the room; nothing stands in it yet."""
        super().__init__(parent)
        self.instruments = QSplitter(Qt.Orientation.Vertical, self)
        self.across = QSplitter(Qt.Orientation.Horizontal, self)
        self._side = scrolled(self.instruments)
        self._halves = QSplitter(Qt.Orientation.Vertical, self)
        self._right = step(self, _WIDTHS[-1][0])
        self._divided = False
        self._upper = _UPPER
        self._kept: list[int] = []
        self.instruments.splitterMoved.connect(lambda _at, _which: self._on_divided())
        self._halves.splitterMoved.connect(lambda _at, _which: self._on_halved())

    def hold(
        self,
        chapters: QWidget,
        *,
        bar: QWidget,
        centre: tuple[QWidget, QWidget],
        instruments: tuple[QWidget, QWidget],
    ) -> None:
        """Fill the columns; `bar` stands over the halves of the `centre`."""
        middle = QWidget(self)
        stacked = QVBoxLayout(middle)
        stacked.setContentsMargins(0, 0, 0, 0)
        stacked.setSpacing(0)
        stacked.addWidget(bar)
        stacked.addWidget(rule(self))
        stacked.addWidget(self._halves, 1)
        for half in centre:
            self._halves.addWidget(half)
        for one in instruments:
            self.instruments.addWidget(one)
        self.instruments.setStretchFactor(0, 1)
        self.instruments.setStretchFactor(1, 0)
        for splitter in (self._halves, self.instruments, self.across):
            splitter.setHandleWidth(1)
            splitter.setChildrenCollapsible(False)
        columns = (chapters, middle, self._side)
        for at, (widget, (width, share)) in enumerate(zip(columns, _WIDTHS, strict=True)):
            self.across.addWidget(widget)
            widget.setMinimumWidth(step(self, min(width, 33) * 0.8))
            self.across.setStretchFactor(at, share)
        self.across.setSizes([step(self, width) for width, _ in _WIDTHS])
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.across)

    def fit(self, needed: int, *, wanted: bool, alone: bool) -> None:
        """Show the instruments where they are `wanted` or leave the centre the width it needs.

        Args:
            needed: Width that the centre needs, in pixels.
            wanted: Whether they are shown however little they leave.
            alone: Whether the centre shares with nothing that is not wanted.
        """
        sizes = self.across.sizes()
        if self.isVisible():
            self._right = sizes[-1] or self._right
        room = self.width() - (sizes[0] or step(self, _WIDTHS[0][0])) - self._right
        self._side.setVisible(wanted or (needed <= room and not alone))

    def fit_halves(self, needed: int) -> None:
        """Give the page its part of the height, or what it needs; the rest is for what is below.

        Where that would be too little to see anything of it, only its strip of names is left.
        """
        whole, below = sum(self._halves.sizes()), self._halves.widget(1)
        strip = below.minimumSizeHint().height() if below else 0
        upper = max(round(whole * self._upper), needed)
        if whole - upper < step(self, _LOWER_LEAST):
            upper = whole - strip
        self._halves.setSizes([upper, whole - upper])

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the stack the height it asks for, as long as nobody divides otherwise."""
        super().resizeEvent(event)
        self._take_up()
        if not self._divided:
            high, stack = self.height(), self.instruments.widget(1)
            asked = stack.sizeHint().height() if stack else 0
            lower = min(asked, round(high * _LOWER_MOST))
            self.instruments.setSizes([high - lower, lower])

    def save_state(self, settings: QSettings) -> None:
        """Keep how the room is divided, in steps; the instruments only as a person divided them."""
        columns = [*self.across.sizes()[:-1], self.across.sizes()[-1] or self._right]
        settings.setValue("desk/columns", self._in_steps(columns))
        if self._divided:
            settings.setValue("desk/instruments", self._in_steps(self.instruments.sizes()))
        settings.setValue("desk/upper", self._upper)

    def restore_state(self, settings: QSettings) -> None:
        """Divide the room as it was, by the size that text has now."""
        if columns := self._in_pixels(settings.value("desk/columns")):
            self._kept, self._right = columns, columns[-1]
            self._take_up()
        if parts := self._in_pixels(settings.value("desk/instruments")):
            self.instruments.setSizes(parts)
            self._divided = True
        self._upper = float(str(settings.value("desk/upper", _UPPER)))

    def _take_up(self) -> None:
        """Give the columns the widths that were kept, as soon as there is room to give."""
        if self._kept and self.width() >= sum(self._kept[:1]) + self._right:
            self.across.setSizes(self._kept)
            self._kept = []

    def _in_steps(self, sizes: Sequence[int]) -> str:
        return " ".join(f"{size / step(self):.3f}" for size in sizes)

    def _in_pixels(self, kept: object) -> list[int]:
        """Return the sizes that were kept; none where they cannot be read."""
        try:
            return [round(float(one) * step(self)) for one in str(kept or "").split()]
        except ValueError:
            return []

    def _on_divided(self) -> None:
        self._divided = True

    def _on_halved(self) -> None:
        upper, lower = self._halves.sizes()
        self._upper = upper / max(1, upper + lower)
