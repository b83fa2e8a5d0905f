"""A process killed at any moment leaves every finished act, and no half of one."""

import os
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from workbench.casefile.sqlite import journal_beside
from workbench.desk.case import Case
from workbench.records import PullOff

KILLS = 52

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "a.case"
    Case.create(made, author="Ann").close()
    return made


@pytest.fixture
def acting(folder: Path) -> Iterator[subprocess.Popen[str]]:
    process = subprocess.Popen(
        [sys.executable, str(Path(__file__).with_name("acting.py")), str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
    )
    with process:
        yield process
        assert process.stdin is not None
        process.stdin.close()
        assert process.wait(10) == 0


def told_until_killed(process: subprocess.Popen[str], acts: int) -> dict[int, str]:
    """Let a child do some acts, kill it in the middle of the next one or of opening the case.

    Returns:
        The acts that it told as finished.
    """
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write("act\n")
    process.stdin.flush()
    words = process.stdout.readline().split()
    child = int(words[1])
    told: dict[int, str] = {}
    while len(told) < acts:
        note(told, process.stdout.readline())
    time.sleep(random.uniform(0, 0.025))
    os.kill(child, signal.SIGKILL)
    while (line := process.stdout.readline()) != "dead\n":
        note(told, line)
    return told


def note(told: dict[int, str], line: str) -> None:
    word, *rest = line.split(maxsplit=2)
    assert word != "dead", "the child ended by itself"
    if word == "done":
        told[int(rest[0])] = rest[1].strip()


def test_every_finished_act_is_there_and_no_half_act_after_each_of_fifty_two_kills(
    folder: Path, acting: subprocess.Popen[str]
) -> None:
    known: dict[int, str] = {}
    interrupted = 0
    for number in range(KILLS):
        finished = told_until_killed(acting, number % 5)
        interrupted += journal_beside(folder / "case.sqlite")
        with Case.open(folder, read_only=True) as case:
            found = case.verify()
            journal = {entry.seq: entry.what for entry in case.journal()}
            pulls = case.dossier.all(PullOff, withdrawn=True)
        assert found.unchanged, found.findings
        assert (known | finished).items() <= journal.items()
        assert len(journal) <= len(known | finished) + 1
        for origin, count in Counter(pull.origin for pull in pulls).items():
            assert count == int(origin.split()[0]), "a part of an act"
        known = journal
    assert interrupted, "no kill fell into an act"
    assert len(known) > KILLS
