"""One photograph large: marks are drawn on it, and stay apart from it."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImageReader, QKeyEvent, QPixmap
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLineEdit,
    QToolButton,
    QWidget,
)

from workbench.desk.marking import marks_of, next_ref, words_of
from workbench.desk.photographs import title_of
from workbench.records import MarkShape, NotUnderstoodError, Photo, PhotoMark, Points, Quantity
from workbench.ui.bench import Bench
from workbench.ui.parts import bare_column, elided, tool
from workbench.ui.photos.marking import MarkView
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

_LARGEST_PX = 2400
_TOOLS = (
    (MarkShape.ARROW, "Arrow", "A", "tail, then tip"),
    (MarkShape.RING, "Ring", "R", "middle, then rim"),
    (MarkShape.SCALE, "Scale", "S", "both ends of something of known length"),
    (MarkShape.DIMENSION, "Dimension", "D", "both ends; the length follows from the scale"),
    (MarkShape.WORDS, "Words", "W", "where they stand"),
)


class LargePhoto(QWidget):
    """The picture, the tools, and the list of its marks.

    Attributes:
        left: The person wants to go back.
    """

    left = Signal()

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show no photograph yet."""
        super().__init__(parent)
        self._bench = bench
        self._photo: Photo | None = None
        self._size = (0, 0)
        self._title = elided("heading", self)
        self.view = MarkView(self)
        self.marks = LinesView("Marks", ("mark", "shape", "says"), self)
        self.words = QLineEdit(self)
        self.length = QLineEdit(self)
        self._group = QButtonGroup(self)
        self._lay_out()
        self.view.drawn.connect(self._on_drawn)
        self.marks.selectionModel().currentRowChanged.connect(self._on_mark)
        bench.changed.connect(self._renew)

    @property
    def photo(self) -> Photo | None:
        """The photograph that is shown."""
        return self._photo

    def show_photo(self, photo: Photo) -> None:
        """Show a photograph with its marks."""
        self._photo = photo
        self._title.setText(f"{title_of(photo)}  {photo.caption}")
        picture, self._size = read_picture(self._bench, photo)
        self.view.show_picture(picture, self._size, marks_of(self._bench.dossier, photo))
        self._list_marks()
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def choose_tool(self, shape: MarkShape | None) -> None:
        """Begin a mark of `shape`."""
        for button in self._group.buttons():
            button.setChecked(button.property("shape") == shape)
        self.view.choose_tool(shape)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Begin a mark with the first letter of its name."""
        letter = event.text().upper()
        shape = next((shape for shape, _, key, _ in _TOOLS if key == letter), None)
        if shape is None:
            super().keyPressEvent(event)
        else:
            self.choose_tool(shape)

    def _on_drawn(self, shape: MarkShape, points: tuple[tuple[float, float], ...]) -> None:
        from workbench.desk.acts import Add

        if self._photo is None:
            return
        try:
            length = Quantity.read(self.length.text()) if self.length.text().strip() else None
        except NotUnderstoodError as wrong:
            self._bench.refused.emit(f"The length of the scale: {wrong}")
            return
        mark = PhotoMark(
            ref=next_ref(self._bench.dossier), photo=title_of(self._photo), shape=shape,
            points=Points(points), words=self.words.text().strip(),
            length=length if shape is MarkShape.SCALE else None, origin="drawn on the photograph",
        )  # fmt: skip
        if self._bench.do(Add((mark,))):
            self.words.clear()
            self._bench.told.emit(f"{mark.ref} is drawn; the photograph itself is unchanged.")

    def _on_mark(self, *_: object) -> None:
        line = self.marks.lines.line_at(self.marks.currentIndex().row())
        mark = line.behind if line and isinstance(line.behind, PhotoMark) else None
        self.view.choose_mark(mark.ref if mark else "")

    def _renew(self) -> None:
        if self._photo is None or not self.isVisible():
            return
        photo = self._bench.dossier.with_id(Photo, self._photo.id)
        if photo:
            self.show_photo(photo)

    def _list_marks(self) -> None:
        photo = self._photo
        marks = marks_of(self._bench.dossier, photo) if photo else ()
        self.marks.show_lines(
            [
                Line((one.ref, str(one.shape), words_of(one, marks, self._size)), one)
                for one in marks
            ],
            (8, 10),
        )

    def _lay_out(self) -> None:
        self.words.setPlaceholderText("Words beside the mark")
        self.words.setAccessibleName("Words beside the next mark")
        self.length.setPlaceholderText("Length of the scale, as 50 mm")
        self.length.setAccessibleName("Length of the scale")
        head = QHBoxLayout()
        head.setSpacing(step(self))
        head.setContentsMargins(step(self), step(self, 0.5), step(self), step(self, 0.5))
        head.addWidget(tool("‹ Photographs", "Back to all photographs", self.left.emit, self))
        head.addWidget(self._title, 1)
        tools = QHBoxLayout()
        tools.setSpacing(step(self))
        tools.setContentsMargins(step(self), 0, step(self), step(self, 0.5))
        for shape, name, keys, how in _TOOLS:
            tools.addWidget(self._tool(shape, name, keys, how))
        tools.addWidget(self.words, 2)
        tools.addWidget(self.length, 1)
        self.marks.setMaximumHeight(step(self, 16))
        whole = bare_column(self)
        whole.addLayout(head)
        whole.addLayout(tools)
        whole.addWidget(self.view, 1)
        whole.addWidget(self.marks)

    def _tool(self, shape: MarkShape, name: str, keys: str, how: str) -> QToolButton:
        made = tool(name, f"{name}: {how} ({keys})", lambda: self.choose_tool(shape), self)
        made.setCheckable(True)
        made.setProperty("shape", shape)
        self._group.addButton(made)
        return made


def read_picture(bench: Bench, photo: Photo) -> tuple[QPixmap, tuple[int, int]]:
    """Return a photograph no larger than a screen needs, and the size of its original."""
    path = bench.case.original(photo.file)
    if path is None:
        return QPixmap(), (0, 0)
    reader = QImageReader(str(path))
    reader.setAutoTransform(True)
    size = reader.size()
    if max(size.width(), size.height()) > _LARGEST_PX:
        bound = QSize(_LARGEST_PX, _LARGEST_PX)
        reader.setScaledSize(size.scaled(bound, Qt.AspectRatioMode.KeepAspectRatio))
    picture = QPixmap.fromImage(reader.read())
    turned = (picture.width() > picture.height()) != (size.width() > size.height())
    return picture, (size.height(), size.width()) if turned else (size.width(), size.height())
