"""Small pictures, made beside the screen and kept in the case's cache, which may be deleted."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QRunnable, QSize, Qt, QThreadPool, Signal
from PySide6.QtGui import QImage, QImageReader, QImageWriter, QPixmap

SIDE_PX = 256
_THREADS = 2
_QUALITY = 85
_HELD = 600
"""How many small pictures are held in memory."""


class Thumbnails(QObject):
    """Gives small pictures of originals.

    Attributes:
        ready: The small picture of this file is there.
    """

    ready = Signal(str)
    _made = Signal(str, QImage)

    def __init__(
        self, original: Callable[[str], Path | None], cache: Path, parent: QObject
    ) -> None:
        """Make small pictures of what `original` gives, kept in the folder `cache`."""
        super().__init__(parent)
        self._original, self._cache = original, cache
        self._pictures: dict[str, QPixmap] = {}
        self._asked: set[str] = set()
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(_THREADS)
        self._order = 0
        self._made.connect(self._on_made)

    def of(self, name: str) -> QPixmap | None:
        """Return the small picture of a file; None now, and `ready` when it is made."""
        if name in self._pictures:
            return self._pictures[name]
        if name not in self._asked:
            self._ask(name)
        return None

    def close(self) -> None:
        """Make no more, and wait for those that are being made."""
        self._pool.clear()
        self._pool.waitForDone()

    def _ask(self, name: str) -> None:
        path = self._original(name)
        self._asked.add(name)
        if path is not None:
            self._order += 1  # what was asked for last is what is looked at
            self._pool.start(_Making(name, path, self._cache, self._made.emit), self._order)

    def _on_made(self, name: str, image: QImage) -> None:
        if len(self._pictures) >= _HELD:
            oldest = next(iter(self._pictures))
            del self._pictures[oldest]
            self._asked.discard(oldest)
        self._pictures[name] = QPixmap.fromImage(image)
        self.ready.emit(name)


class _Making(QRunnable):
    """Makes one small picture; it holds nothing of Qt's objects but a way to say it is done."""

    def __init__(
        self, name: str, path: Path, cache: Path, made: Callable[[str, QImage], None]
    ) -> None:
        super().__init__()
        self._name, self._path, self._cache, self._made = name, path, cache, made

    def run(self) -> None:
        """Take the small picture from the cache, or make it and put it there."""
        small = self._cache / f"{self._path.name}.jpg"
        image = QImage(str(small)) if small.exists() else QImage()
        if image.isNull():
            image = small_picture(self._path)
            if not image.isNull():
                self._cache.mkdir(parents=True, exist_ok=True)
                writer = QImageWriter(str(small))
                writer.setQuality(_QUALITY)
                writer.write(image)
        try:
            self._made(self._name, image)
        except RuntimeError:  # the window is gone
            return


def small_picture(path: Path, side_px: int = SIDE_PX) -> QImage:
    """Return the picture at `path` no larger than `side_px`, upright; a null one if it is none.

    A JPEG is decoded at an eighth, a quarter or a half where that is enough.
    """
    reader = QImageReader(str(path))
    reader.setAutoTransform(True)
    size = reader.size()
    if size.isValid():
        longest = max(size.width(), size.height())
        if longest > side_px:
            bound = QSize(side_px, side_px)
            reader.setScaledSize(size.scaled(bound, Qt.AspectRatioMode.KeepAspectRatio))
    return reader.read()
