"""Without a screen that works the program says so, and ends as a program that was refused."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from workbench.ui.screen import require_screen

NAMES = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM", "XDG_RUNTIME_DIR")

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="screens are named so on Linux")


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("DISPLAY", ":4711"), ("DISPLAY", "no display"), ("WAYLAND_DISPLAY", "wayland-4711"),
        ("QT_QPA_PLATFORM", "no-such-platform"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("command", [[], ["receive", "{case}"]])
def test_a_screen_that_does_not_answer_is_told_in_a_sentence(
    name: str, value: str, command: list[str], sample: Path, tmp_path: Path
) -> None:
    bare = {key: said for key, said in os.environ.items() if key not in NAMES}
    words = [word.format(case=sample) for word in command]
    ended = subprocess.run(
        [sys.executable, "-m", "workbench", *words], cwd=tmp_path, capture_output=True, text=True,
        env=bare | {name: value, "XDG_RUNTIME_DIR": str(tmp_path)}, check=False, timeout=60,
    )  # fmt: skip
    assert ended.returncode == 2
    assert ended.stderr.startswith("workbench: no window can open on this screen")
    assert f"{name}={value}" in ended.stderr
    assert ended.stderr.count("\n") == 1
    assert not ended.stdout


def test_where_no_screen_is_needed_none_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    monkeypatch.setattr(os, "fork", lambda: pytest.fail("a child was made"))
    require_screen()
