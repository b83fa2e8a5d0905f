"""The photographs of the case: taken in by the hundred, placed, captioned, marked, compared."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QLineEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from workbench.records import Photo, Source
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.form.panel import FormPanel
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label, parted
from workbench.ui.photos.gallery import Gallery
from workbench.ui.photos.large import LargePhoto
from workbench.ui.photos.pair import Pair
from workbench.ui.photos.thumbnails import Thumbnails
from workbench.ui.theme import step
from workbench.ui.work_line import WorkLine

if TYPE_CHECKING:
    from workbench.desk.photographs import PhotoIntake
    from workbench.ui.tasks import Step

_KINDS = "Pictures (*.jpg *.jpeg *.png *.tif *.tiff *.webp);;All files (*)"
_PAUSE_MS = 120


class PhotographsPage(Page):
    """Gallery and form; a photograph opens large, two open side by side.

    Attributes:
        asked: The person asks how a record is known.
    """

    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Make the page."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self.thumbnails = Thumbnails(
            bench.case.original, bench.case.folder / "cache" / "thumbnails", self
        )
        self.gallery = Gallery(bench, self.thumbnails, self)
        self.form = FormPanel(bench, Photo, self)
        self.large = LargePhoto(bench, self)
        self.pair = Pair(bench, self)
        self.filter = QLineEdit(self)
        self._count = label("", "quiet", self)
        self.work = WorkLine(self)
        self._stack = QStackedWidget(self)
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self.setAcceptDrops(True)
        self._lay_out()
        self._connect()

    @property
    def current(self) -> Source | None:
        """The photograph in the form."""
        return self.form.form.record.source if self.form.form.record else None

    def fill(self) -> None:
        """Show the photographs as they are now."""
        self._narrow()
        held = self.form.form.record or self.gallery.photos.photo_at(0)
        found = self.bench.dossier.with_id(Photo, held.id) if held else None
        self.form.show_record(found if found and not found.withdrawn else None)

    def enter(self) -> None:
        """Go to the gallery."""
        self._stack.setCurrentIndex(0)
        self.gallery.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_source(self, source: Source) -> None:
        """Choose the photograph that `source` names."""
        photo = self.bench.dossier.resolve(source)
        if photo is None:
            return
        if self.gallery.photos.row_of(photo.id) is None:
            self.filter.clear()
            self._narrow()
        self.gallery.light([photo.id])
        self.form.show_record(photo)

    def take_in(self, paths: list[Path]) -> None:
        """Take in the pictures at `paths`, and those in folders among them."""
        from workbench.desk.photographs import read_photographs

        case = self.bench.case

        def work(step: "Step") -> "PhotoIntake":
            intake = read_photographs(case, paths, step)
            if intake.records:
                case.do(intake.act(), step)
            return intake

        self.work.begin("Taking in photographs", work, self._on_taken_in)

    def place_by_time(self) -> None:
        """Give photographs without a place that of what was done at the same time."""
        from workbench.desk.acts import TakeIn
        from workbench.desk.photographs import proposals

        found = proposals(self.bench.dossier)
        if not found:
            self.bench.told.emit("No photograph without a place was taken near one with a place.")
            return
        why = "; ".join(f"{one.photo.ref} at {one.at}, {one.because}" for one in found[:8])
        changed = tuple(one.placed for one in found)
        if self.bench.do(TakeIn(source="places by time", changed=changed, why=why)):
            self.bench.told.emit(f"{len(found)} photographs have a place now; look at each.")

    def save(self) -> None:
        """Save the form."""
        self.form.save()

    def withdraw(self) -> None:
        """Ask why the photograph is to be withdrawn; its file stays."""
        self.form.begin_withdrawing()

    def add(self) -> None:
        """Ask for pictures to take in."""
        self._ask_files()

    def go_to_filter(self) -> None:
        """Go to the filter."""
        self.filter.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.filter.selectAll()

    def open_large(self, photo: Photo | None = None) -> None:
        """Show a photograph large, to mark it."""
        chosen = photo or next(iter(self.gallery.chosen_photos()), self.form.form.record)
        if isinstance(chosen, Photo):
            self._stack.setCurrentWidget(self.large)
            self.large.show_photo(chosen)

    def open_pair(self) -> None:
        """Show two photographs side by side."""
        self._stack.setCurrentWidget(self.pair)
        self.pair.show_pair(self.gallery.chosen_photos(), self.gallery.photos.photos)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files that are dragged here."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take in the pictures that were dropped."""
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        event.acceptProposedAction()
        self.take_in(paths)

    def close_down(self) -> None:
        """Make no more small pictures."""
        self.work.drop()
        self.thumbnails.close()

    def _narrow(self) -> None:
        bench, words = self.bench, self.filter.text()
        everything = bench.dossier.all(Photo)
        shown = [
            photo
            for photo in everything
            if bench.index.takes(bench.selection.focus, photo)
            and (not words or bench.search.matches(photo, words))
        ]
        zone = bench.dossier.zone
        shown.sort(key=lambda one: one.taken.start(zone).timestamp() if one.taken else 0)
        self.gallery.show_photos(shown)
        number = len(everything)
        same = len(shown) == number
        self._count.setText(f"{number}" if same else f"{len(shown)} of {number}")
        self._on_lit()

    def _on_taken_in(self, intake: "PhotoIntake") -> None:
        known, wrong = len(intake.known), [one.place for one in intake.problems]
        said = [f"{Photo.counted(len(intake.records))} taken in"]
        said += [f"already in the case: {known}"] if known else []
        said += [f"no pictures: {', '.join(wrong[:6])}"] if wrong else []
        self.bench.told.emit(f"{'; '.join(said)}. The originals are kept unchanged.")
        if intake.records:
            self.bench.selection.light(photo.source for photo in intake.records)

    def _on_focused(self) -> None:
        if self.isVisible():
            self._narrow()
        else:
            self._stale = True

    def _on_lit(self) -> None:
        if not self.isVisible():
            return
        found = (self.bench.dossier.resolve(source) for source in self.bench.selection.sources)
        lit = [photo.id for photo in found if isinstance(photo, Photo)]
        if set(lit) != {photo.id for photo in self.gallery.chosen_photos()}:
            self.gallery.light(lit)

    def _on_chosen(self, photos: tuple[Photo, ...]) -> None:
        self.bench.selection.light(photo.source for photo in photos)
        if photos:
            self.form.show_record(photos[0])

    def _ask_files(self) -> None:
        self.ask.files(self, "Photographs to take in", _KINDS, self.take_in)

    def _connect(self) -> None:
        self._pause.timeout.connect(self._narrow)
        self.filter.textChanged.connect(lambda _text: self._pause.start())
        self.gallery.chosen.connect(self._on_chosen)
        self.gallery.opened.connect(self.open_large)
        self.large.left.connect(self.enter)
        self.pair.left.connect(self.enter)
        self.form.asked.connect(self.asked)
        self.form.left.connect(self.enter)
        self.work.told.connect(
            lambda words, wrong: (self.bench.refused if wrong else self.bench.told).emit(words)
        )
        self.bench.selection.focused.connect(self._on_focused)
        self.bench.selection.lit.connect(self._on_lit)

    def _lay_out(self) -> None:
        self.filter.setPlaceholderText("Filter")
        self.filter.setAccessibleName("Filter the photographs")
        self.filter.setClearButtonEnabled(True)
        self.filter.setMaximumWidth(step(self, 16))
        buttons = (
            button("Mark", self.open_large, self, tip="Show it large (Return)"),
            button("Side by side", self.open_pair, self),
            button(
                "Places by time", self.place_by_time, self,
                tip="Give photographs without a place that of what was done within 15 minutes",
            ),
            button("Take in…", self._ask_files, self, tip="Take in pictures, or drag them here"),
        )  # fmt: skip
        head = self.head("Photographs", self._count, self.work, right=(self.filter, *buttons))
        halves = parted(
            self, Qt.Orientation.Horizontal, (self.gallery, self.form), grows=0, steps=(64, 34)
        )
        self.form.setMinimumWidth(step(self, 28))
        self.form.show_way_back(shown=False)
        first = QWidget(self)
        inner = QVBoxLayout(first)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(0)
        inner.addLayout(head)
        inner.addWidget(halves, 1)
        for part in (first, self.large, self.pair):
            self._stack.addWidget(part)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._stack)
