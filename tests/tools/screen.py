"""A screen of its own, and a person who has nothing but a keyboard."""

import json
import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

PROGRAMS = ("Xvfb", "xdotool")
_KEY_MS = "25"


def missing_programs() -> list[str]:
    """Return the programs that a screen needs and that are not installed."""
    return [name for name in PROGRAMS if not shutil.which(name)]


@contextmanager
def screen(size: str = "1280x800") -> Iterator[dict[str, str]]:
    """Run a screen of its own, and give the surroundings in which programs show on it."""
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", "1", "-screen", "0", f"{size}x24", "-noreset"],
        stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
    )  # fmt: skip
    assert server.stdout is not None
    try:
        display = f":{server.stdout.readline().strip()}"
        surroundings = {**os.environ, "DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
        until(lambda: _run(["xdotool", "getdisplaygeometry"], surroundings).returncode == 0)
        yield surroundings
    finally:
        server.terminate()
        server.wait(10)
        server.stdout.close()


class Person:
    """Presses keys, and reads what the window under the keys says."""

    def __init__(self, surroundings: dict[str, str], state: Path) -> None:
        """Sit before a screen on which a watched window writes to `state`."""
        self._surroundings, self._state = surroundings, state
        self._title = ""

    @property
    def sees(self) -> dict[str, Any]:
        """What stands on the screen."""
        if not self._state.exists():
            return {}
        return dict(json.loads(self._state.read_text(encoding="utf-8")))

    def press(self, *keys: str) -> None:
        """Press keys one after the other."""
        _run(["xdotool", "key", "--delay", _KEY_MS, *keys], self._surroundings)

    def write(self, text: str) -> None:
        """Type a text."""
        _run(["xdotool", "type", "--delay", _KEY_MS, text], self._surroundings)

    def face(self, title: str) -> None:
        """Turn to the window with a title, as a window manager would when it opens."""

        def there() -> str:
            words = ["xdotool", "search", "--onlyvisible", "--name", title]
            return _run(words, self._surroundings).stdout.split("\n")[0]

        self._title = title

        def has_keys() -> bool:
            found = there()
            if found:
                _run(["xdotool", "windowfocus", found], self._surroundings)
                time.sleep(0.4)
            return bool(found and self.sees.get("window", "").startswith(title))

        until(has_keys, f"a window called {title}", self)

    def tab_to(self, name: str, key: str = "Tab") -> None:
        """Press Tab until the part with this name has the keys."""
        passed = []
        for _ in range(60):
            time.sleep(0.25)
            if self.sees["focus"].startswith(name):
                return
            if not self.sees["focus"]:
                passed.append("")
                self.face(self._title)  # nothing manages windows here: a list that closed took it
                continue
            passed.append(self.sees["focus"])
            self._press_until_taken(key)
        raise AssertionError(f"Tab never comes to {name}: {passed}")

    def _press_until_taken(self, key: str) -> None:
        moves = self.sees["moves"]
        self.press(key)
        self.waits(lambda seen: seen["moves"] != moves)

    def waits(self, true: Callable[[dict[str, Any]], object], seconds: float = 60) -> None:
        """Wait until what is on the screen is so."""
        until(lambda: bool(self.sees) and bool(true(self.sees)), "the screen", self, seconds)


def until(
    true: Callable[[], bool], what: str = "it", person: "Person | None" = None, seconds: float = 60
) -> None:
    """Wait until something is true, but not for ever."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, f"waited for {what} in vain: {person and person.sees}"
        time.sleep(0.1)


def _run(words: list[str], surroundings: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        words, env=surroundings, capture_output=True, text=True, check=False, timeout=120
    )
