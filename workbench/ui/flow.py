"""Parts beside each other that go on in a next row where there is no room."""

from collections.abc import Iterable

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class Flow(QLayout):
    """Lays its parts out in rows, each as wide as it wants to be.

    Where all have room in one row, those from `push_right` on stand at its right end. A part that
    needs no width of its own, as a line that is cut off with a sign, takes what its row leaves.
    """

    def __init__(self, gap: int) -> None:
        """Leave `gap` pixels between parts, and half of it between rows."""
        super().__init__()
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(gap)
        self._items: list[QLayoutItem] = []
        self._right: int | None = None

    def push_right(self) -> None:
        """Let what is added from now on stand at the right end."""
        self._right = len(self._items)

    def addItem(self, item: QLayoutItem) -> None:
        """Take a part."""
        self._items.append(item)

    def count(self) -> int:
        """Return the number of parts."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return a part; None behind the last."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Give a part away."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Want no more room than the parts do."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Return that more rows are needed where it is narrow."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the rows."""
        return self._lay_out(QRect(0, 0, width, 0), move=False)

    def minimumHeightForWidth(self, width: int) -> int:
        """Return the height of the rows; no part gives way."""
        return self.heightForWidth(width)

    def sizeHint(self) -> QSize:
        """Return the size of one row."""
        sizes = [item.sizeHint() for item in self._shown()]
        wide = sum(size.width() for size in sizes) + self.spacing() * max(0, len(sizes) - 1)
        high = max((size.height() for size in sizes), default=0)
        return QSize(wide, high).grownBy(self.contentsMargins())

    def minimumSize(self) -> QSize:
        """Return the size of the widest and of the highest part."""
        least = QSize()
        for item in self._shown():
            least = least.expandedTo(item.minimumSize())
        return least.grownBy(self.contentsMargins())

    def setGeometry(self, rect: QRect) -> None:
        """Put the parts in their places."""
        super().setGeometry(rect)
        self._lay_out(rect, move=True)

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _lay_out(self, rect: QRect, *, move: bool) -> int:
        """Lay the rows out within `rect`, and return how high they are with their margins."""
        room = rect.marginsRemoved(self.contentsMargins())
        rows, y = self._rows(room.width()), room.top()
        for row in rows:
            high = max(item.sizeHint().height() for item in row)
            if move:
                self._place(row, QRect(room.left(), y, room.width(), high), alone=len(rows) == 1)
            y += high + self.spacing() // 2
        margins = self.contentsMargins()
        inner = max(0, y - room.top() - self.spacing() // 2)
        return inner + margins.top() + margins.bottom()

    def _rows(self, width: int) -> list[list[QLayoutItem]]:
        rows: list[list[QLayoutItem]] = []
        left = 0
        for item in self._shown():
            wide = _needed(item)
            if not rows or wide > left:
                rows.append([])
                left = width
            rows[-1].append(item)
            left -= wide + self.spacing()
        return rows

    def _place(self, row: list[QLayoutItem], room: QRect, *, alone: bool) -> None:
        x, gaps = room.left(), self.spacing() * (len(row) - 1)
        spare = max(0, room.width() - gaps - sum(map(_needed, row)))
        right = self._items[self._right :] if alone and self._right is not None else []
        for item in row:
            size, needed = item.sizeHint(), _needed(item)
            if item in right:
                x, right, spare = x + spare, [], 0
            wide = min(size.width(), needed + spare, room.width())
            spare -= max(0, wide - needed)
            y = room.top() + (room.height() - size.height()) // 2
            item.setGeometry(QRect(x, y, wide, size.height()))
            x += wide + self.spacing()


def _needed(item: QLayoutItem) -> int:
    """Return the width without which a part goes on in the next row."""
    least = item.minimumSize().width()
    return item.sizeHint().width() if least > 1 else least


def flow(gap: int, parts: Iterable[QWidget], right: Iterable[QWidget] = ()) -> Flow:
    """Return `parts` beside each other with `gap` between, and those of `right` at the right."""
    made = Flow(gap)
    for part in parts:
        made.addWidget(part)
    made.push_right()
    for part in right:
        made.addWidget(part)
    return made
