"""A process that does acts until it is killed, telling each one once it is finished.

Started once; for every line on standard input it forks a child that opens the case and acts.
"""

import os
import random
import sys
from dataclasses import replace
from pathlib import Path

from builders import make

from workbench.desk.acts import Act, Add, Change, FileToKeep, TakeIn, Withdraw
from workbench.desk.case import Case, JournalEntry
from workbench.records import CustodyEntry, PullOff, When, new_id
from workbench.records.codes import CustodyEvent


def tell(*words: object) -> None:
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def batch(number: int) -> tuple[PullOff, ...]:
    """Return records that say how many came with them, so that a part of them shows."""
    mark = new_id()
    return tuple(
        make(PullOff, ref=f"{mark}-{at}", origin=f"{number} of {mark}") for at in range(number)
    )


def act(case: Case) -> JournalEntry:
    live = case.dossier.all(PullOff)
    choice = random.choice(["add", "change", "withdraw", "book", "custody", "undo", "redo"])
    if choice == "undo" and case.undo_list:
        return case.undo()
    if choice == "redo" and case.redo_list:
        return case.redo()
    return case.do(wanted(choice, live))


def wanted(choice: str, live: tuple[PullOff, ...]) -> Act:
    if choice == "change" and live:
        return Change(replace(random.choice(live), note=new_id()))
    if choice == "withdraw" and live:
        return Withdraw(random.choice(live), "void")
    if choice == "book":
        files = tuple(FileToKeep(f"{new_id()}.jpg", os.urandom(60_000)) for _ in range(3))
        return TakeIn("book", added=batch(15), files=files)
    if choice == "custody":
        entry = CustodyEntry(sample="S1", when=When("2026-01-02"), event=CustodyEvent.OPENED)
        return Add((entry,))
    return Add(batch(5))


def act_on(folder: Path) -> None:
    random.seed(os.urandom(8))
    case = Case.open(folder, author="Ann")
    while True:
        entry = act(case)
        tell("done", entry.seq, entry.what)


if __name__ == "__main__":
    for _ in sys.stdin:
        child = os.fork()
        if child == 0:
            tell("child", os.getpid())
            act_on(Path(sys.argv[1]))
        os.waitpid(child, 0)
        tell("dead")
