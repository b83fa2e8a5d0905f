"""A box of twelve samples received on a real screen, with scanner and keyboard only.

The scanner is xdotool at 5 ms a key on a German keyboard; the person's keys come at 120 ms. What
counts afterwards is what stands in the custody ledger.
"""

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import make
from tools.screen import missing_programs, screen

from workbench.cli.main import main
from workbench.desk.acts import Add
from workbench.desk.case import Case
from workbench.records import CaseEntry, CustodyEntry, Party, Record, Sample

REFS = (*(f"S-{n:02}" for n in range(1, 12)), "S-Y1")
KEYCODES = {"Y": "29"}
"""Where a scanner set to an American keyboard presses; on a German one it makes a Z."""


def on_their_way() -> list[Record]:
    records: list[Record] = [
        make(CaseEntry, key="reference", value="CF-7"),
        make(Party, name="Lab", role="laboratory"),
    ]
    for number, ref in enumerate(REFS, 101):
        said = {"sample": ref, "seal": str(number)}
        records += [
            make(Sample, ref=ref),
            make(CustodyEntry, **said, when="2026-03-01 09:00", event="collected", receiver="Ann"),
            make(CustodyEntry, **said, when="2026-03-01 09:05", event="sealed", giver="Ann",
                 receiver="Ann"),
            make(CustodyEntry, **said, when="2026-03-02 08:00", event="dispatched", giver="Ann",
                 receiver="Van", carrier="Van"),
        ]  # fmt: skip
    return records


@pytest.fixture
def german_screen() -> Iterator[dict[str, str]]:
    if "PYTEST_XDIST_WORKER" in os.environ:
        pytest.skip("needs the machine for itself: run this file alone, without -n")
    if missing := [*missing_programs(), *(() if shutil.which("setxkbmap") else ("setxkbmap",))]:
        pytest.skip(f"not installed: {', '.join(missing)}")
    with screen("1280x900") as surroundings:
        wait_for(lambda: run(["setxkbmap", "de"], surroundings).returncode == 0, 20)
        yield surroundings


def run(words: list[str], surroundings: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        words, env=surroundings, capture_output=True, text=True, check=False, timeout=60
    )


def wait_for(true: object, seconds: float) -> None:
    assert callable(true)
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.1)


def window(surroundings: dict[str, str]) -> str:
    """The window of the case, once it is seen; there is no window manager to give it the keys."""
    found = run(["xdotool", "search", "--onlyvisible", "--name", "CF-7"], surroundings)
    return found.stdout.strip()


class Person:
    """Presses keys on a screen."""

    def __init__(self, surroundings: dict[str, str]) -> None:
        self._surroundings = surroundings

    def press(self, *keys: str) -> None:
        run(["xdotool", "key", "--delay", "120", *keys], self._surroundings)

    def write(self, text: str) -> None:
        run(["xdotool", "type", "--delay", "120", text], self._surroundings)

    def scan(self, ref: str) -> None:
        letters = [one for one in ref if one.isalnum()]
        keys = [KEYCODES.get(one, one) for one in letters]
        run(["xdotool", "key", "--delay", "5", *keys, "Return"], self._surroundings)
        time.sleep(0.6)


def look_outside(person: Person) -> None:
    person.scan(REFS[0])
    person.press("Down", "Down", "Tab")
    person.write("Van")
    person.press("Tab")
    person.write("551")
    person.press("Tab", "Down", "Tab", "Down", "Tab")
    person.write("77")
    person.press("Tab", "Down", "Tab")
    person.write("1")


def test_twelve_samples_are_received_in_under_three_minutes(
    german_screen: dict[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "box.case"
    with Case.create(folder, author="Lab") as case:
        case.do(Add(tuple(on_their_way())))
    home = {**german_screen, "HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    home |= {"WORKBENCH_NAME": "Lab"}
    said = tmp_path / "said.txt"
    with said.open("w") as errors:
        program = subprocess.Popen(
            [sys.executable, "-m", "workbench", "receive", str(folder)], env=home, stderr=errors
        )
    try:
        wait_for(lambda: window(german_screen) or program.poll() is not None, 60)
        assert program.poll() is None, said.read_text()
        run(["xdotool", "windowfocus", window(german_screen)], german_screen)
        time.sleep(2.0)
        person = Person(german_screen)
        began = time.monotonic()
        look_outside(person)
        for number, ref in enumerate(REFS):
            person.scan(ref)
            person.press("F2")
            person.write("dry")
            if number == 0:
                person.press("Tab", "Tab", "Tab")
                person.write("Cabinet")
        person.press("ctrl+shift+Return")
        wait_for(lambda: received(folder, capsys) == set(REFS), 60)
        assert time.monotonic() - began < 180
    finally:
        program.terminate()
        program.wait(20)


def received(folder: Path, capsys: pytest.CaptureFixture[str]) -> set[str]:
    capsys.readouterr()
    main(["custody", str(folder), "--json"])
    said = json.loads(capsys.readouterr().out)
    assert not [one for one in said["breaches"] if one["grave"]]
    return {one["sample"] for one in said["samples"] if one["place"] == "Cabinet"}
