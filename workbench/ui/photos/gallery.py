"""The photographs as small pictures, in the order they were taken."""

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from workbench.desk.photographs import title_of
from workbench.records import Photo
from workbench.records.codes import Condition
from workbench.ui.bench import Bench
from workbench.ui.marks import paint_condition
from workbench.ui.photos.thumbnails import Thumbnails
from workbench.ui.theme import is_dark, quiet, scheme_of, step

Index = QModelIndex | QPersistentModelIndex
_ROLE = Qt.ItemDataRole
_TILE = 19.5
"""Least width of a tile in steps; tiles share the width of the gallery."""
_KEEP = Qt.AspectRatioMode.KeepAspectRatio


class PhotoModel(QAbstractListModel):
    """One row a photograph."""

    def __init__(self, thumbnails: Thumbnails, parent: QObject | None = None) -> None:
        """Hold nothing."""
        super().__init__(parent)
        self._photos: tuple[Photo, ...] = ()
        self._rows: dict[str, int] = {}
        self._files: dict[str, int] = {}
        self._thumbnails = thumbnails
        thumbnails.ready.connect(self._on_ready)

    @property
    def photos(self) -> tuple[Photo, ...]:
        """The photographs shown."""
        return self._photos

    def show_photos(self, photos: Sequence[Photo]) -> None:
        """Show other photographs."""
        self.beginResetModel()
        self._photos = tuple(photos)
        self._rows = {photo.id: row for row, photo in enumerate(photos)}
        self._files = {photo.file: row for row, photo in enumerate(photos)}
        self.endResetModel()

    def photo_at(self, row: int) -> Photo | None:
        """Return the photograph of a row, or None where there is none."""
        return self._photos[row] if 0 <= row < len(self._photos) else None

    def row_of(self, photo_id: str) -> int | None:
        """Return the row of a photograph, or None where it is not shown."""
        return self._rows.get(photo_id)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return the number of photographs."""
        return 0 if parent.isValid() else len(self._photos)

    def data(self, index: Index, role: int = _ROLE.DisplayRole) -> object:
        """Return the title of a photograph, what is heard of it, its small picture, or itself."""
        photo = self.photo_at(index.row())
        if photo is None:
            return None
        if role == _ROLE.DisplayRole:
            return title_of(photo)
        if role in (_ROLE.ToolTipRole, _ROLE.AccessibleTextRole):
            said = (title_of(photo), photo.at, str(photo.taken or ""), photo.caption)
            return ", ".join(part for part in said if part)
        return photo if role == _ROLE.UserRole else None

    def picture_of(self, index: Index) -> QPixmap | None:
        """Return the small picture of a row, or None while it is being made."""
        photo = self.photo_at(index.row())
        return self._thumbnails.of(photo.file) if photo else None

    def _on_ready(self, name: str) -> None:
        row = self._files.get(name)
        if row is not None:
            self.dataChanged.emit(self.index(row), self.index(row), [_ROLE.DecorationRole])


class _TileDelegate(QStyledItemDelegate):
    """Paints a photograph with its name, place and condition below."""

    def __init__(self, bench: Bench, parent: QWidget) -> None:
        super().__init__(parent)
        self._bench = bench

    def sizeHint(self, option: QStyleOptionViewItem, _index: Index) -> QSize:
        """Return the size of a tile."""
        least, view = step(option.widget, _TILE), option.widget
        room = view.viewport().width() - 1 if isinstance(view, QListView) else least
        wide = max(least, min(room // max(1, room // least), 2 * least))
        return QSize(wide, round(0.72 * wide) + step(option.widget, 5))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one tile."""
        photo, widget, model = index.data(_ROLE.UserRole), option.widget, index.model()
        if not isinstance(photo, Photo) or not isinstance(model, PhotoModel):
            return
        scheme, unit = scheme_of(widget), step(widget)
        room = QRect(option.rect).adjusted(unit // 2, unit // 2, -unit // 2, -unit // 2)
        painter.save()
        if option.state & option.state.State_Selected:
            painter.fillRect(room, QColor(scheme.wash))
            painter.setPen(QColor(scheme.accent))
            painter.drawRect(room.adjusted(0, 0, -1, -1))
        elif option.state & option.state.State_HasFocus:
            painter.setPen(QColor(scheme.accent))
            painter.drawRect(room.adjusted(0, 0, -1, -1))
        painter.setFont(quiet(widget.font()))
        line = painter.fontMetrics().height()
        frame = room.adjusted(unit // 2, unit // 2, -unit // 2, -2 * line - unit // 2)
        _paint_picture(painter, frame, model.picture_of(index), QColor(scheme.band))
        words = QRect(frame.left(), frame.bottom() + 2, frame.width(), line)
        self._paint_words(painter, words, photo, widget)
        painter.restore()

    def _paint_words(self, painter: QPainter, room: QRect, photo: Photo, widget: QWidget) -> None:
        scheme, unit, metrics = scheme_of(widget), step(widget), painter.fontMetrics()
        condition = self._bench.dossier.condition_at(photo.at) if photo.at else Condition.UNKNOWN
        middle = QPoint(room.left() + unit // 2, room.center().y())
        paint_condition(painter, middle.toPointF(), unit * 0.75, condition, dark=is_dark(widget))
        title = f"{title_of(photo)}  {photo.at or 'no place'}"
        shown = metrics.elidedText(title, Qt.TextElideMode.ElideRight, room.width() - 2 * unit)
        painter.setPen(QColor(scheme.ink if photo.at else scheme.alarm))
        painter.drawText(room.adjusted(round(1.5 * unit), 0, 0, 0), 0, shown)
        painter.setPen(QColor(scheme.quiet))
        second = room.translated(0, metrics.height())
        caption = photo.caption or str(photo.taken or "")
        shown = metrics.elidedText(caption, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(second, 0, shown)


def _paint_picture(
    painter: QPainter, frame: QRect, picture: QPixmap | None, ground: QColor
) -> None:
    if picture is None or picture.isNull():
        painter.fillRect(frame, ground)
        return
    size = picture.size().scaled(frame.size(), _KEEP)
    target = QRect(QPoint(0, 0), size)
    target.moveCenter(frame.center())
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawPixmap(target, picture)


class Gallery(QListView):
    """Shows the tiles and says which are chosen.

    Attributes:
        chosen: The person chose these photographs.
        opened: The person wants to see this photograph large.
    """

    chosen = Signal(tuple)
    opened = Signal(object)

    def __init__(self, bench: Bench, thumbnails: Thumbnails, parent: QWidget | None = None) -> None:
        """Make the empty gallery."""
        super().__init__(parent)
        self.photos = PhotoModel(thumbnails, self)
        self._following = False
        self.setModel(self.photos)
        self.setItemDelegate(_TileDelegate(bench, self))
        self.setAccessibleName("Photographs")
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setLayoutMode(QListView.LayoutMode.Batched)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setFrameShape(QListView.Shape.NoFrame)
        self.selectionModel().selectionChanged.connect(self._on_selection_changed)
        self.activated.connect(self._on_activated)

    def show_photos(self, photos: Sequence[Photo]) -> None:
        """Show `photos`, keeping what is chosen."""
        kept = [photo.id for photo in self.chosen_photos()]
        self._following = True
        self.photos.show_photos(photos)
        self._following = False
        self.light(kept)

    def chosen_photos(self) -> tuple[Photo, ...]:
        """Return the photographs chosen, in the order shown."""
        rows = sorted(index.row() for index in self.selectedIndexes())
        found = (self.photos.photo_at(row) for row in rows)
        return tuple(photo for photo in found if photo)

    def light(self, ids: Sequence[str]) -> None:
        """Choose the photographs with these ids, without telling anyone."""
        rows = [row for key in ids if (row := self.photos.row_of(key)) is not None]
        chosen = QItemSelection()
        for row in rows:
            chosen.select(self.photos.index(row), self.photos.index(row))
        self._following = True
        flags = QItemSelectionModel.SelectionFlag
        self.selectionModel().select(chosen, flags.ClearAndSelect)
        if rows:
            self.selectionModel().setCurrentIndex(self.photos.index(rows[0]), flags.NoUpdate)
            self.scrollTo(self.photos.index(rows[0]))
        self._following = False

    def _on_selection_changed(self) -> None:
        if not self._following:
            self.chosen.emit(self.chosen_photos())

    def _on_activated(self, index: QModelIndex) -> None:
        if photo := self.photos.photo_at(index.row()):
            self.opened.emit(photo)
