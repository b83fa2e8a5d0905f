"""The receiving desk as a page: outside, then item after item, then one act."""

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from workbench.desk.receiving import (
    Reception,
    ScanKind,
    announced,
    lacking_inside,
    lacking_outside,
    read_scan,
)
from workbench.records import NotUnderstoodError, Sample, Source
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label, overline, rule
from workbench.ui.receiving.checks import ItemFields, OutsideFields
from workbench.ui.receiving.guard import ScanGuard
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.custody.story import Story

_PLACE, _PHOTO = "delivery", "photo"
_PICTURES = "Photographs (*.jpg *.jpeg *.png *.tif *.tiff)"


class ReceivingPage(Page):
    """Logs one delivery; nothing is in the case before it is finished."""

    alone = True

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Begin with an empty delivery."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self.reception = Reception()
        self.sample = ""
        self._announced: dict[str, Story] = {}
        self._photos: dict[str, Path] = {}
        self._last: tuple[str, ...] = ()
        self.guard = ScanGuard(self)
        self.guard.scanned.connect(self.scan)
        self.scan_line = QLineEdit(self)
        self.scan_line.setPlaceholderText("scan a label, or type its ref and press Enter")
        self.scan_line.setAccessibleName("Scan")
        self.scan_line.returnPressed.connect(lambda: self.scan(self.scan_line.text()))
        self.list = LinesView("Samples", ("", "sample", "what", "sent under", "looked at"), self)
        self.outside = OutsideFields(self._on_outside, self)
        self.item = ItemFields(self._on_item, self)
        self.said = label("", "heading", self)
        self.lacking = label("", "quiet", self)
        self._item_title = label("No item yet", "title", self)
        self._make_buttons()
        self._lay_out()
        self._renew_state()
        self._take_up()

    # -- while it is seen

    @property
    def current(self) -> Source | None:
        """The sample that is being received."""
        known = self.sample and self.bench.dossier.find(Sample, self.sample)
        return Source(Sample.noun, self.sample) if known else None

    def fill(self) -> None:
        """Show what is on its way, and what was looked at."""
        self._announced = {story.sample.ref: story for story in announced(self.bench.dossier)}
        seen = [one.sample for one in self.reception.items if one.sample not in self._announced]
        lines = [self._line(ref) for ref in (*self._announced, *seen)]
        self.list.show_lines(lines, (3, 8, 11, 11, 19))
        self._renew_state()

    def enter(self) -> None:
        """Go to the scan line."""
        self.scan_line.setFocus(Qt.FocusReason.OtherFocusReason)

    def showEvent(self, event: QShowEvent) -> None:
        """Stand before the keys while the page is seen."""
        super().showEvent(event)
        self.guard.stand(on=True)

    def hideEvent(self, event: QHideEvent) -> None:
        """Let the keys go."""
        self.guard.stand(on=False)
        super().hideEvent(event)

    # -- what a person does

    def scan(self, text: str) -> None:
        """Take a scan or a typed ref: show the item, or say what it is instead."""
        self.scan_line.clear()
        found = read_scan(self.bench.dossier, text)
        if found.kind is not ScanKind.SAMPLE:
            self._say(found.words, wrong=found.kind is not ScanKind.NOTHING)
            return
        if missing := lacking_outside(self.outside.check()):
            self._say(f"Look at the outside first: {', '.join(missing)}", wrong=True)
            self.outside.enter(self.outside.first_blank() or "mode")
            return
        if self.sample and found.refs[0] != self.sample and not self._keep():
            return
        self._show_item(found.refs[0])

    def as_expected(self) -> None:
        """Say that the item that is shown was looked at and is as it should be."""
        if self.sample:
            self.item.as_expected(self._seal_of(self.sample))
            self._on_item()
            self.item.enter(self.item.first_blank() or "condition")

    def add_photo(self) -> None:
        """Ask for the photograph of the item that is shown."""
        if self.sample:
            self.ask.file(self, f"Photograph of {self.sample}", _PICTURES, self.take_photo)

    def take_photo(self, path: Path) -> None:
        """Keep `path` as the photograph of the item that is shown, when the receipt is finished."""
        self._put_photo(path)
        self._say(f"{path.name} goes with {self.sample}")
        self._on_item()

    def _put_photo(self, path: Path) -> None:
        """Let the item that is shown have `path`, in the place of one it had before."""
        name = f"photos/received-{self.sample.replace('/', '-')}{path.suffix.lower()}"
        self._photos.pop(self.item.photo, None)
        self._photos[name] = path
        self.item.photo = name

    def finish(self) -> None:
        """Put the delivery into the case, in one act."""
        from workbench.desk.acts import FileToKeep, Receive

        if self.sample and not self._keep():
            return
        if missing := self.reception.lacking():
            self._say(f"Still to be said: {missing[0]}", wrong=True)
            return
        at = datetime.now(self.bench.dossier.zone)
        files = tuple(FileToKeep(name, path) for name, path in self._photos.items())
        receiver = self.bench.case.author
        act = Receive(reception=self.reception, receiver=receiver, at=at, files=files)
        if self.bench.do(act):
            self._last = tuple(one.sample for one in self.reception.items)
            self._begin_anew()
            self._say(f"{len(self._last)} received by {receiver}; the receipt can be written now")

    def ask_receipt(self) -> None:
        """Ask where the receipt of the last delivery goes."""
        if self._last:
            name = self.bench.case.folder.parent / "receipt.docx"
            self.ask.new_file(self, "The receipt", "Word documents (*.docx)", name, self.write)

    def write(self, path: Path) -> None:
        """Write the receipt of the last delivery to `path`."""
        from workbench.desk.custody_papers import write_receipt

        at, author = datetime.now(self.bench.dossier.zone), self.bench.case.author
        write_receipt(self.bench.case, path, self._last, receiver=author, at=at)
        self._say(f"{path} is written; both parties sign it")

    # -- inside

    def _show_item(self, ref: str) -> None:
        place = self.item.text("place")
        self.sample = ref
        check = self.reception.item(ref)
        self.item.clear()
        self.item.photo = ""
        if check is not None:
            self.item.show_check(check)
        else:
            self.item.put("place", place)
        story = self._announced.get(ref)
        sent = f"sent under seal {self._seal_of(ref)}" if self._seal_of(ref) else "no seal known"
        self._item_title.setText(ref)
        self._say(f"{ref}: {sent}" if story else f"{ref} was not announced", wrong=story is None)
        self._renew_state()
        self.item.enter("label_legible")

    def _seal_of(self, ref: str) -> str:
        story = self._announced.get(ref)
        seals = sorted(story.now.seals) if story and story.now else []
        return seals[-1] if seals else ""

    def _keep(self) -> bool:
        """Put the item that is shown into the delivery; return whether it could be."""
        try:
            self.reception = self.reception.with_item(self.item.check(self.sample))
        except NotUnderstoodError as wrong:
            self._say(str(wrong), wrong=True)
            self.item.enter("amount")
            return False
        except ValueError as wrong:
            self._say(str(wrong), wrong=True)
            self.outside.enter(self.outside.first_blank() or "containers")
            return False
        self.fill()
        return True

    def _take_up(self) -> None:
        """Write into the fields what was written and not received when the program ended."""
        words = self.bench.drafts.words(_PLACE)
        written: dict[str, dict[str, str]] = {}
        for key, text in words.items():
            ref, _, name = key.partition("|")
            written.setdefault(ref, {})[name] = text
        for name, text in written.pop("", {}).items():
            self.outside.put(name, text)
        if words:
            self._on_outside()
            self.fill()
        lost = [ref for ref, texts in written.items() if not self._take_up_item(ref, texts)]
        if lost:
            self._say(
                f"The photograph of {', '.join(lost)} is not where it was; choose it again",
                wrong=True,
            )

    def _take_up_item(self, ref: str, texts: dict[str, str]) -> bool:
        """Write what was written of an item; return whether its photograph is still there."""
        picture = texts.pop(_PHOTO, "")
        there = Path(picture).is_file() if picture else True
        self._show_item(ref)
        for name, text in texts.items():
            self.item.put(name, text)
        if picture and there:
            self._put_photo(Path(picture))
        self._on_item()
        return there

    def _remember(self) -> None:
        """Keep what is written of the delivery until it is received."""
        kept, here = self.bench.drafts.words(_PLACE), f"{self.sample}|"
        kept |= {f"|{name}": self.outside.text(name) for name in self.outside.fields}
        if self.sample:
            kept |= {f"{here}{name}": self.item.text(name) for name in self.item.fields}
            kept[f"{here}{_PHOTO}"] = str(self._photos.get(self.item.photo, ""))
        self.bench.drafts.keep_words(_PLACE, kept)

    def _on_outside(self) -> None:
        self._remember()
        self.reception = Reception(self.outside.check(), self.reception.items)
        self._renew_state()

    def _on_item(self) -> None:
        self._remember()
        if trouble := self.item.amount_trouble():
            self._say(trouble, wrong=True)
        elif self.sample:
            self._keep()

    def _begin_anew(self) -> None:
        self.reception, self.sample, self._photos = Reception(), "", {}
        self.bench.drafts.keep_words(_PLACE, {})
        self.outside.clear()
        self.item.clear()
        self._item_title.setText("No item yet")
        self.fill()

    def _renew_state(self) -> None:
        missing = self.reception.lacking()
        self.item.setEnabled(bool(self.sample))
        self._finish.setEnabled(not missing)
        self._receipt.setEnabled(bool(self._last))
        if not missing:
            self.lacking.setText(f"{len(self.reception.items)} looked at; nothing is missing.")
        else:
            more = f" and {len(missing) - 3} more" if len(missing) > 3 else ""
            self.lacking.setText(f"Still to be said: {', '.join(missing[:3])}{more}")

    def _line(self, ref: str) -> Line:
        story = self._announced.get(ref)
        check = self.reception.item(ref)
        if check is None:
            state = "not yet"
        else:
            missing = lacking_inside(check)
            state = f"lacks {', '.join(missing[:2])}" if missing else "complete"
        mark = {"complete": "✓", "not yet": ""}.get(state, "…")
        what = story.sample.kind.value.replace("_", " ") if story else "not announced"
        return Line((mark, ref, what, self._seal_of(ref) or "–", state))

    def _say(self, words: str, *, wrong: bool = False) -> None:
        self.said.setText(words)
        self.said.setProperty("role", "wrong" if wrong else "heading")
        self.said.style().unpolish(self.said)
        self.said.style().polish(self.said)

    def _make_buttons(self) -> None:
        self._expected = button("As it should be  F2", self.as_expected, self)
        self._photo = button("Photograph…  F3", self.add_photo, self)
        self._finish = button("Receive  Ctrl+Shift+Enter", self.finish, self, main=True)
        self._receipt = button("Write the receipt…", self.ask_receipt, self)
        for keys, act in (
            ("F2", self.as_expected), ("F3", self.add_photo), ("Ctrl+Shift+Return", self.finish),
            ("F12", self.enter),
        ):  # fmt: skip
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(act)

    def _lay_out(self) -> None:
        self.said.setWordWrap(True)
        self.lacking.setWordWrap(True)
        head = _row(label("Receiving desk", "title", self), self.scan_line)
        head.setStretch(1, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self))
        whole.setSpacing(step(self))
        whole.addLayout(head)
        whole.addWidget(self.said)
        whole.addWidget(overline("1  Outside, before opening", self))
        whole.addWidget(self.outside)
        whole.addWidget(rule(self))
        whole.addLayout(self._columns(), 1)
        end = _row(self.lacking, self._receipt, self._finish)
        end.setStretch(0, 1)
        whole.addLayout(end)

    def _columns(self) -> QHBoxLayout:
        left, right = QVBoxLayout(), QVBoxLayout()
        left.addWidget(overline("On its way", self))
        left.addWidget(self.list, 1)
        for row in (
            _row(overline("2  The item", self), self._item_title),
            _row(self.item),
            _row(self._expected, self._photo),
        ):
            right.addLayout(row)
        right.addStretch()
        columns = QHBoxLayout()
        columns.setSpacing(step(self, 3))
        for column in (left, right):
            column.setSpacing(step(self) // 2)
            columns.addLayout(column, 1)
        return columns


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(step(widgets[0], 1))
    for widget in widgets:
        row.addWidget(widget)
    return row
