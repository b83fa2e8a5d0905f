"""The chain of custody: who holds each sample, its story, and what does not hold in it."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from workbench.custody.rules import breaches
from workbench.custody.story import Story, stories
from workbench.records import CustodyEntry, KnownError, Source, When
from workbench.records.codes import CustodyEvent
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.flow import flow
from workbench.ui.pages.page import Page
from workbench.ui.parts import button, label, overline
from workbench.ui.receiving.fields import Fields
from workbench.ui.table.lines import Line, LinesView
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.custody.breach import Breach

_EVENTS = tuple(
    event for event in CustodyEvent if event not in {CustodyEvent.COLLECTED, CustodyEvent.RECEIVED}
)
_FIELDS = (
    ("event", "What happened", _EVENTS),
    ("giver", "From", ()),
    ("receiver", "To", ()),
    ("place", "Place", ()),
    ("seal", "Seal number", ()),
    ("condition", "Condition", ()),
    ("carrier", "Carrier", ()),
    ("note", "Note", ()),
)
_PLACE = "next custody entry"
_WIDE = 110
"""Width in steps that samples and a story beside them need."""


@dataclass(frozen=True, slots=True)
class _Row:
    entry: CustodyEntry
    righted: bool


class CustodyPage(Page):
    """Samples at the left, the story of the one chosen at the right, and the next entry below.

    Attributes:
        asked: The person asks how an entry is known.
    """

    asked = Signal(object)

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Show no sample yet."""
        super().__init__(bench, parent)
        self.ask = Ask()
        self._stories: tuple[Story, ...] = ()
        self._breaches: tuple[Breach, ...] = ()
        self._righting: CustodyEntry | None = None
        self.samples = LinesView("Samples", ("", "sample", "held by", "custody"), self)
        self.story = LinesView(
            "Entries", ("when", "what", "from → to", "seal", "place", "recorded"), self
        )
        self.wrong = label("", "wrong", self)
        self.fields = Fields(_FIELDS, self._on_typed, self, columns=3)
        self._doing = overline("Next entry", self)
        self._record = button("Record", self.record, self, main=True)
        self._right = button("Put the entry right…", self.put_right, self)
        self._form = button("Custody form…", self.ask_form, self)
        self._labels = button("Labels…", self.ask_labels, self)
        self._give = button("Hand over…", self.ask_hand_over, self)
        self._join = button("Join a hand-over…", self.ask_join, self)
        self.samples.setSelectionMode(LinesView.SelectionMode.ExtendedSelection)
        self._lay_out()
        self.samples.selectionModel().currentRowChanged.connect(self._show_story)
        self.story.opened.connect(self._on_opened)

    @property
    def width_needed(self) -> int:
        """The width of the samples and of a story beside them."""
        return step(self, _WIDE)

    @property
    def chosen(self) -> Story | None:
        """The story of the sample that is chosen."""
        row = self.samples.currentIndex().row()
        return self._stories[row] if 0 <= row < len(self._stories) else None

    @property
    def current(self) -> Source | None:
        """The entry that is chosen, or else the sample."""
        row = self.story.lines.line_at(self.story.currentIndex().row())
        if row is not None and isinstance(row.behind, _Row):
            return row.behind.entry.source
        return self.chosen.sample.source if self.chosen else None

    def fill(self) -> None:
        """Show who holds what now."""
        kept = max(self.samples.currentIndex().row(), 0)
        self._stories = stories(self.bench.dossier)
        self._breaches = breaches(self.bench.dossier, now=datetime.now(UTC))
        lines = [self._sample_line(story) for story in self._stories]
        self.samples.show_lines(lines, (3, 8, 18, 14))
        if lines:
            row = min(kept, len(lines) - 1)
            self.samples.setCurrentIndex(self.samples.lines.index(row, 0))
        self._show_story()

    def enter(self) -> None:
        """Go to the samples."""
        self.samples.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_source(self, source: Source) -> None:
        """Choose the sample that an entry speaks of."""
        entry = self.bench.dossier.resolve(source)
        wanted = entry.sample if isinstance(entry, CustodyEntry) else source.label
        for row, story in enumerate(self._stories):
            if story.sample.ref == wanted:
                self.samples.setCurrentIndex(self.samples.lines.index(row, 0))

    def record(self) -> None:
        """Put the entry that is written into the ledger, one for each sample chosen.

        It is not undone, only put right.
        """
        from workbench.desk.acts import Add

        event = self.fields.text("event")
        if not self._marked or not event:
            self.bench.refused.emit("Choose a sample and say what happened.")
            return
        if self.bench.do(Add(tuple(self._entry(story, event) for story in self._marked))):
            self._begin_next()

    def _entry(self, story: Story, event: str) -> CustodyEntry:
        """Return the entry of one sample; each is given by its own holder."""
        now = datetime.now(self.bench.dossier.zone)
        when = self._righting.when if self._righting else When(now.isoformat(" ", "seconds"))
        text, first = self.fields.text, self.chosen
        giver, seal = text("giver"), text("seal")
        if first and story is not first and story.now and first.now:
            giver = story.now.holder if giver == first.now.holder else giver
            seal = max(story.now.seals, default="") if seal in first.now.seals else seal
        return CustodyEntry(
            sample=story.sample.ref, when=when, event=CustodyEvent(event), giver=giver,
            receiver=text("receiver"), place=text("place"), seal=seal,
            condition=text("condition"), carrier=text("carrier"), note=text("note"),
            corrects=self._righting.id if self._righting else "",
        )  # fmt: skip

    @property
    def _marked(self) -> tuple[Story, ...]:
        """The stories of all samples that are chosen; of one only while an entry is put right."""
        rows = sorted({index.row() for index in self.samples.selectionModel().selectedRows()})
        if self._righting or not rows:
            return (self.chosen,) if self.chosen else ()
        return tuple(self._stories[row] for row in rows if row < len(self._stories))

    def ask_hand_over(self) -> None:
        """Ask where the records of the chosen samples go, for whom the line "To" names."""
        if not self.fields.text("receiver"):
            self.bench.refused.emit("Say under “To” who gets the hand-over.")
            self.fields.enter("receiver")
            return
        name = self.bench.case.folder.parent / "hand-over"
        self.ask.new_file(self, "Hand-over", "Folders (*)", name, self.hand_over)

    def hand_over(self, folder: Path) -> None:
        """Write the records of the chosen samples into the bag `folder`."""
        from workbench.desk.handing_over import give

        refs = [story.sample.ref for story in self._marked]
        at, party = datetime.now(self.bench.dossier.zone), self.fields.text("receiver")
        try:
            went = give(self.bench.case, folder, party=party, refs=refs, at=at)
        except KnownError as wrong:
            self.bench.refused.emit(str(wrong))
            return
        self.bench.told.emit(f"{folder} is written; custody ledger {went.our_ledger}")

    def ask_join(self) -> None:
        """Ask for the hand-over that came."""
        self.ask.folder(self, "Hand-over that came", self.join)

    def join(self, folder: Path) -> None:
        """Join the hand-over in `folder`, or say why it is refused."""
        from workbench.desk.handing_over import join, read_hand_over

        case = self.bench.case
        try:
            found = read_hand_over(case, folder)
            join(case, found, at=datetime.now(self.bench.dossier.zone))
        except KnownError as wrong:
            self.bench.refused.emit(str(wrong))
            return
        self.bench.told.emit(
            f"Joined: {len(found.theirs)} custody entries and {len(found.added)} records of "
            f"{found.parcel.sender}; {len(found.differing)} records differ, and ours stay."
        )

    def put_right(self) -> None:
        """Begin an entry that puts the chosen one right; the old one stays legible."""
        row = self.story.lines.line_at(self.story.currentIndex().row())
        if row is None or not isinstance(row.behind, _Row) or row.behind.righted:
            self.bench.refused.emit("Choose an entry that still counts.")
            return
        self._righting = row.behind.entry
        for name, _, _ in _FIELDS:
            self.fields.put(name, str(getattr(self._righting, name)))
        self._doing.setText(f"PUTS RIGHT {self._righting.label.upper()}")
        self.fields.enter("giver")

    def ask_form(self) -> None:
        """Ask where the custody form of all samples goes."""
        name = self.bench.case.folder.parent / "chain-of-custody.docx"
        self.ask.new_file(self, "Custody form", "Word documents (*.docx)", name, self.write_form)

    def write_form(self, path: Path) -> None:
        """Write the custody form to `path`."""
        from workbench.desk.custody_papers import write_form

        write_form(self.bench.case, path, at=datetime.now(self.bench.dossier.zone))
        self.bench.told.emit(f"{path} is written.")

    def ask_labels(self) -> None:
        """Ask where the labels of all samples go."""
        name = self.bench.case.folder.parent / "sample-labels.pdf"
        self.ask.new_file(self, "Labels", "PDF files (*.pdf)", name, self.write_labels)

    def write_labels(self, path: Path) -> None:
        """Write the labels to `path`, for a sheet of 21 on A4."""
        from workbench.desk.custody_papers import write_label_sheet

        write_label_sheet(self.bench.case, path)
        self.bench.told.emit(f"{path} is written; print it at 100 percent.")

    # -- inside

    def _sample_line(self, story: Story) -> Line:
        told = [one for one in self._breaches if story.sample.ref in one.sample.split(", ")]
        mark = "✗" if any(one.grave for one in told) else "!" if told else "✓"
        now = story.now
        if now is None:
            return Line((mark, story.sample.ref, "–", "no entry"))
        state = now.entry.event.value.replace("_", " ") if now.ended else str(now.state or "–")
        return Line((mark, story.sample.ref, now.holder or "–", state))

    def _show_story(self) -> None:
        story = self.chosen
        rows = []
        if story is not None:
            righted = [_Row(old, righted=True) for old, _ in story.corrected]
            standing = [_Row(moment.entry, righted=False) for moment in story.moments]
            zone = self.bench.dossier.zone
            rows = sorted(righted + standing, key=lambda row: row.entry.when.start(zone))
        self.story.show_lines([_entry_line(row) for row in rows], (11.5, 11, 20, 11, 20, 11.5))
        told = [one for one in self._breaches if story and story.sample.ref in one.sample]
        self.wrong.setText("\n".join(f"{one.words}; {one.remedy}" for one in told))
        self.wrong.setVisible(bool(told))
        if self._righting is None:
            self._offer_next()

    def _offer_next(self) -> None:
        if typed := self.bench.drafts.words(_PLACE):
            for name, text in typed.items():
                self.fields.put(name, text)
            return
        now = self.chosen.now if self.chosen else None
        self.fields.put("giver", now.holder if now else "")
        self.fields.put("place", now.place if now else "")
        self.fields.put("seal", max(now.seals) if now and now.seals else "")

    def _on_typed(self) -> None:
        """Keep what is typed, as long as it is not in the ledger."""
        typed = {name: self.fields.text(name) for name, _, _ in _FIELDS}
        self.bench.drafts.keep_words(_PLACE, typed)

    def _begin_next(self) -> None:
        self._righting = None
        self.bench.drafts.keep_words(_PLACE, {})
        self._doing.setText("NEXT ENTRY")
        self.fields.clear()
        self._offer_next()

    def _on_opened(self, _behind: object) -> None:
        if self.current is not None:
            self.asked.emit(self.current)

    def _lay_out(self) -> None:
        self.wrong.setWordWrap(True)
        for table in (self.samples, self.story):
            table.setMinimumHeight(step(self, 8))
        left, right = QWidget(self), QWidget(self)
        lines = QVBoxLayout(left)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.samples)
        told = QVBoxLayout(right)
        told.setContentsMargins(0, 0, 0, 0)
        told.setSpacing(step(self) // 2)
        told.addWidget(self.story, 1)
        told.addWidget(self.wrong)
        told.addWidget(self._doing)
        told.addWidget(self.fields)
        buttons = QHBoxLayout()
        buttons.addWidget(self._record)
        buttons.addWidget(self._right)
        buttons.addStretch()
        told.addLayout(buttons)
        parts = QSplitter(Qt.Orientation.Horizontal, self)
        parts.addWidget(left)
        parts.addWidget(right)
        parts.setStretchFactor(0, 1)
        parts.setStretchFactor(1, 2)
        left.setMinimumWidth(step(self, 30))
        parts.setSizes([step(self, 30), step(self, 64)])
        head = flow(
            step(self),
            (label("Chain of custody", "title", self),),
            (self._labels, self._form, self._give, self._join),
        )
        whole = QVBoxLayout(self)
        whole.setContentsMargins(step(self, 2), step(self), step(self, 2), step(self))
        whole.setSpacing(step(self))
        whole.addLayout(head)
        whole.addWidget(parts, 1)


def _entry_line(row: _Row) -> Line:
    entry = row.entry
    what = entry.event.value.replace("_", " ")
    state = f" {entry.seal_condition.value.replace('_', ' ')}" if entry.seal_condition else ""
    cells = (
        str(entry.when), f"{what} (put right)" if row.righted else what, _parties(entry),
        f"{entry.seal}{state}", entry.place, entry.recorded_at[:16].replace("T", " "),
    )  # fmt: skip
    return Line(cells, row)


def _parties(entry: CustodyEntry) -> str:
    if entry.giver and entry.giver != entry.receiver:
        return f"{entry.giver} → {entry.receiver or '?'}"
    return entry.receiver or entry.giver or "–"
