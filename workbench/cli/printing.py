"""How commands speak: sentences and JSON to standard output, progress to standard error."""

import dataclasses
import json
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

Step = Callable[[int, int], None]


def say(text: str = "") -> None:
    """Print a line for a person."""
    print(text)


def say_json(value: object) -> None:
    """Print a value as JSON; dataclasses become objects, and everything else unknown its text.

    Raises:
        ValueError: It holds a number that JSON does not have.
    """
    print(json.dumps(_plain(value), ensure_ascii=False, allow_nan=False, indent=2))


def count(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun: "1 finding", "3 findings"."""
    return f"{number} {one if number == 1 else many or one + 's'}"


@contextmanager
def progress(what: str) -> Iterator[Step]:
    """Give a step that shows on a terminal how far the work is; elsewhere it is silent."""
    shown = sys.stderr.isatty()
    last = -1

    def step(done: int, whole: int) -> None:
        nonlocal last
        percent = min(100, 100 * done // whole) if whole else 100
        if shown and percent != last:
            last = percent
            print(f"\r{what} {percent:3d} %", end="", file=sys.stderr, flush=True)

    try:
        yield step
    finally:
        if last >= 0:
            print("\r\033[K", end="", file=sys.stderr, flush=True)


def _plain(value: object) -> object:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {one.name: _plain(getattr(value, one.name)) for one in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [_plain(one) for one in value]
    if value is None or isinstance(value, bool | int | float):
        return value
    return value.as_posix() if isinstance(value, Path) else str(value)
