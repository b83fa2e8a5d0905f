"""Opinions: drafted from the reasoning for each question put, their words watched while typed."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from workbench.records import Dossier, Opinion
from workbench.ui.bench import Bench
from workbench.ui.pages.records import RecordsPage
from workbench.ui.parts import button, label, rule
from workbench.ui.theme import step

if TYPE_CHECKING:
    from workbench.reasoning import Reasoning


def how_they_stand(dossier: Dossier) -> str:
    """Return which questions are not answered, and which opinions nobody has signed."""
    held, put = dossier.all(Opinion), tuple(enumerate(dossier.questions, 1))
    left = [said for at, said in put if not any(one.answers(at, said) for one in held)]
    unsigned = [one.ref for one in held if not one.signed]
    parts = []
    if left:
        listed = "; ".join(f"“{one}”" for one in left)
        parts.append(f"{len(left)} question{'s' * (len(left) > 1)} put and not answered: {listed}")
    if unsigned:
        parts.append(f"Drafted, unsigned: {', '.join(unsigned)}; unsigned no report is issued.")
    return "\n".join(parts) or "Every question put has an opinion that is signed."


_WATCHED = ("opinion", "against", "limits", "range_of_opinion")
_TOLD = 5


class OpinionsPage(RecordsPage):
    """The table and form of opinions, with what a judge would ask about the one in the form."""

    form_share = 0.6

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        """Watch the form."""
        super().__init__(bench, Opinion, parent)
        self.put = label("", "quiet", self)
        self.asked_of = label("", "wrong", self)
        self.drafting = button(
            "Draft an opinion for each", self.draft, self, tip="From the reasoning as it stands"
        )
        self._lay_out_watch()
        self.form.form.edited.connect(lambda _changes: self._watch())
        self.table.chosen.connect(lambda _records: self._watch())

    def fill(self) -> None:
        """Show the opinions, and the questions put that have none."""
        super().fill()
        left = self.without
        self.put.setText(how_they_stand(self.bench.dossier))
        self.drafting.setVisible(bool(left) and not self.bench.case.read_only)
        self._watch()

    @property
    def without(self) -> list[str]:
        """The questions put on which there is no opinion, not even a draft."""
        held, put = self.bench.dossier.all(Opinion), enumerate(self.bench.dossier.questions, 1)
        return [said for at, said in put if not any(one.is_on(at, said) for one in held)]

    def draft(self) -> None:
        """Add a draft for each question put that has no opinion yet."""
        from workbench.desk.acts import Add
        from workbench.reasoning import draft_opinions

        found = self.bench.answers.ask(self.bench.causes)
        if found is None:
            self.bench.refused.emit(
                "The candidates are still being weighed; try again in a moment."
            )
            return
        drafts = draft_opinions(found, self.bench.dossier, self.bench.case.author)
        if self.bench.do(Add(drafts, "drafted from the reasoning")):
            self.bench.told.emit(f"{len(drafts)} drafted; read them, change them, sign them.")

    def _watch(self) -> None:
        said = list(self._questions())
        more = f"\nand {len(said) - _TOLD} more" if len(said) > _TOLD else ""
        self.asked_of.setText("\n".join(said[:_TOLD]) + more)
        self.asked_of.setVisible(bool(said))

    def _questions(self) -> Iterator[str]:
        """Return what a judge would ask about what stands in the form."""
        from workbench.reasoning import certainty_flags, opinion_problems, party_flags

        texts, dossier = self.form.form.texts, self.bench.dossier
        for part in _WATCHED:
            text = texts.get(part, "")
            for flag in (*certainty_flags(text), *party_flags(text, dossier)):
                yield f"! {part.replace('_', ' ')}: “{flag.words}”; {flag.why}"
        record = self.form.form.record
        found: Reasoning | None = self.bench.answers.ask(self.bench.causes)
        if isinstance(record, Opinion) and found:
            for one in opinion_problems(record, found, dossier):
                if one.hinders:
                    yield f"✕ {one.cell}: {one.wrong}; {one.right}"

    def _on_ready(self, question: object) -> None:
        super()._on_ready(question)
        if question is self.bench.causes:
            self._watch()

    def _lay_out_watch(self) -> None:
        for one in (self.put, self.asked_of):
            one.setWordWrap(True)
        row = QHBoxLayout()
        row.setSpacing(step(self))
        row.addWidget(self.put, 1)
        row.addWidget(self.drafting)
        foot = QVBoxLayout()
        foot.setContentsMargins(step(self, 2), step(self, 0.5), step(self), step(self, 0.5))
        foot.addWidget(self.asked_of)
        foot.addLayout(row)
        whole = self.layout()
        if isinstance(whole, QVBoxLayout):
            whole.addWidget(rule(self))
            whole.addLayout(foot)
