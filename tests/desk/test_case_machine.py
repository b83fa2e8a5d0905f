"""Acts, undo, redo and reopening in any order leave the case as a plain list would be."""

import shutil
import tempfile
import unicodedata
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from builders import make
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    consumes,
    initialize,
    invariant,
    multiple,
    precondition,
    rule,
)

from workbench.desk.acts import Add, Change, FileToKeep, Keep, TakeIn, Withdraw
from workbench.desk.case import Case
from workbench.records import UNDONE, Area, CustodyEntry, PullOff, Record, When
from workbench.records.codes import CustodyEvent

WORDS = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "Z"]), max_size=8)
COMPOSED = WORDS.map(lambda text: unicodedata.normalize("NFC", text))

State = dict[str, Record]


@dataclass
class Model:
    """What a case is in memory: its records, and what each act changed from and to."""

    now: State = field(default_factory=dict)
    entries: int = 0
    done: list[tuple[State, State]] = field(default_factory=list)
    undone: list[tuple[State, State]] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)

    def do(self, changed: State, *, final: bool = False) -> None:
        was = {key: self.now[key] for key in changed if key in self.now}
        self.now = self.now | changed
        self.done = [] if final else [*self.done, (was, changed)]
        self.undone = []
        self.entries += 1

    def undo(self) -> None:
        was, changed = self.done.pop()
        self.undone.append((was, changed))
        added = {key: changed[key] for key in changed if key not in was}
        gone = {key: replace(one, withdrawn=UNDONE) for key, one in added.items()}
        self.now = self.now | was | gone
        self.entries += 1

    def redo(self) -> None:
        was, changed = self.undone.pop()
        self.done.append((was, changed))
        self.now = self.now | changed
        self.entries += 1


class CaseMachine(RuleBasedStateMachine):
    """A case on disk beside its model."""

    records = Bundle("records")

    @initialize()
    def make_case(self) -> None:
        self.root = Path(tempfile.mkdtemp())
        self.case = Case.create(self.root / "a.case", author="Ann")
        self.model = Model()
        self.number = 0

    def new(self, kind: type[Record], **said: Any) -> Record:
        self.number += 1
        return make(kind, ref=f"R{self.number}", **said)

    @rule(target=records, note=COMPOSED, kind=st.sampled_from([PullOff, Area]))
    def add(self, note: str, kind: type[Record]) -> Any:
        record = self.new(kind, note=note)
        self.case.do(Add((record,)))
        self.model.do({record.id: record})
        return record

    @rule(target=records, number=st.integers(1, 4), content=st.binary(max_size=9))
    def take_in(self, number: int, content: bytes) -> Any:
        added = tuple(self.new(PullOff) for _ in range(number))
        name = f"photos/{self.number}.jpg"
        self.case.do(TakeIn("book.xlsx", added=added, files=(FileToKeep(name, content),)))
        self.model.do({one.id: one for one in added})
        self.model.files[name] = content
        return multiple(*added)

    @rule(record=records, note=COMPOSED)
    def change(self, record: Record, note: str) -> None:
        now = self.model.now[record.id]
        changed = replace(now, note=f"{note}{self.number}!")  # type: ignore[call-arg]
        if now.withdrawn or changed == now:
            return
        self.case.do(Change(changed))
        self.model.do({record.id: changed})

    @rule(record=records)
    def withdraw(self, record: Record) -> None:
        now = self.model.now[record.id]
        if now.withdrawn:
            return
        self.case.do(Withdraw(now, "void"))
        self.model.do({record.id: replace(now, withdrawn="void")})

    @rule(record=consumes(records))
    def bring_back(self, record: Record) -> None:
        now = self.model.now[record.id]
        if not now.withdrawn:
            return
        self.case.do(Change(replace(now, withdrawn="")))
        self.model.do({record.id: replace(now, withdrawn="")})

    @rule(content=st.binary(max_size=9), name=st.sampled_from(["a.jpg", "b.jpg"]))
    def keep(self, content: bytes, name: str) -> None:
        self.case.do(Keep((FileToKeep(name, content),)))
        self.model.files[name] = content
        self.model.entries += 1

    @rule()
    def hand_over(self) -> None:
        entry = CustodyEntry(sample="S1", when=When("2026-01-02"), event=CustodyEvent.HANDED_OVER)
        self.case.do(Add((entry,)))
        self.model.do({entry.id: entry}, final=True)

    @precondition(lambda self: self.model.done)
    @rule()
    def undo(self) -> None:
        self.case.undo()
        self.model.undo()

    @precondition(lambda self: self.model.undone)
    @rule()
    def redo(self) -> None:
        self.case.redo()
        self.model.redo()

    @rule()
    def reopen(self) -> None:
        self.case.close()
        self.case = Case.open(self.root / "a.case", author="Ann")

    @invariant()
    def the_case_is_what_the_model_says(self) -> None:
        held = {one.id: one for one in self.case.dossier.everything(withdrawn=True)}
        assert held == self.model.now
        assert len(self.case.undo_list) == len(self.model.done)
        assert len(self.case.redo_list) == len(self.model.undone)
        assert self.case.heads.journal.count == self.model.entries
        for name, content in self.model.files.items():
            path = self.case.original(name)
            assert path is not None
            assert path.read_bytes() == content

    def teardown(self) -> None:
        found = self.case.verify()
        assert found.unchanged, found.findings
        self.case.close()
        shutil.rmtree(self.root)


TestCase = CaseMachine.TestCase
TestCase.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
