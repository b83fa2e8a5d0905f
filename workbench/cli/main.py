"""The commands of the workbench, one per file of `workbench.cli.commands`.

A command returns 0, or 1 where it found what needs attention. What the surroundings or the input
did is told in one sentence, with 2; a defect of the program is told as one, with 70.
"""

import errno
import sys
import traceback
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import ModuleType
from typing import Any

import workbench.cli.commands
from workbench.records import Cancelled, KnownError

_NOT_WRITTEN = frozenset({errno.EACCES, errno.EPERM, errno.EROFS, errno.ENOSPC})
FOUND, REFUSED, DEFECT, INTERRUPTED = 1, 2, 70, 130

Window = Callable[[Path | None, str], int]
"""Opens the window on a case, at the desk named; returns when it is closed."""


def main(arguments: Sequence[str] | None = None, *, window: Window | None = None) -> int:
    """Run the command that `arguments` name, or the window where they name none.

    Args:
        arguments: Words after the name of the program.
        window: What opens the window.

    Returns:
        0 for success, 1 for findings, 2 for what the surroundings refuse, 70 for a defect.
    """
    words = list(sys.argv[1:] if arguments is None else arguments)
    for stream in (sys.stdout, sys.stderr):
        if reconfigure := getattr(stream, "reconfigure", None):
            reconfigure(errors="replace")
    try:
        return _run(words, window)
    except KnownError as wrong:
        return _refuse(str(wrong))
    except OSError as wrong:
        return _refuse(_in_words(wrong))
    except (Cancelled, KeyboardInterrupt):
        print("stopped; nothing was kept of what was not finished", file=sys.stderr)
        return INTERRUPTED
    except Exception:  # noqa: BLE001 - the last door: what comes here is a defect
        traceback.print_exc()
        print("workbench: this is a defect of the program; please report it", file=sys.stderr)
        return DEFECT


def _run(words: list[str], window: Window | None) -> int:
    if window and (not words or _is_case(words)):
        return window(Path(words[0]) if words else None, "")
    import typer
    from typer.exceptions import TyperException

    program = typer.main.get_command(_program(typer))
    try:
        result = program.main(
            args=words or ["--help"], prog_name="workbench", standalone_mode=False, obj=window
        )
    except typer.Abort as stop:
        raise KeyboardInterrupt from stop
    except TyperException as wrong:
        where = getattr(getattr(wrong, "ctx", None), "command_path", "workbench")
        said = wrong.format_message().rstrip(".")
        return _refuse(f"{said}. Try “{where} --help”.")
    if result == INTERRUPTED:
        raise KeyboardInterrupt
    return result if isinstance(result, int) else 0


def _in_words(wrong: OSError) -> str:
    """Return what a place refused: a folder that takes no file is named, not the file."""
    said = wrong.strerror or str(wrong)
    if not wrong.filename:
        return said
    path = Path(wrong.filename)
    if wrong.errno == errno.ENOENT and not path.parent.is_dir():
        return f"{path.parent}: there is no such folder"
    if wrong.errno in _NOT_WRITTEN and not path.exists():
        return f"{path.parent}: nothing can be written there ({said}); choose another folder"
    return f"{path}: {said}"


def _is_case(words: list[str]) -> bool:
    return len(words) == 1 and words[0].endswith(".case") and Path(words[0]).is_dir()


def _program(typer: Any) -> Any:  # noqa: ANN401 - imported late
    program = typer.Typer(
        help="A workbench for one coating-failure investigation. Alone, it opens the window.",
        add_completion=False,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
    )
    program.callback()(_nothing)
    for command in _commands():
        name = command.__name__.rpartition(".")[2].rstrip("_")
        program.command(name.replace("_", "-"))(command.run)
    return program


def _nothing() -> None:
    pass


def _commands() -> Iterator[ModuleType]:
    room = workbench.cli.commands
    for found in sorted(iter_modules(room.__path__), key=lambda one: one.name):
        yield import_module(f"{room.__name__}.{found.name}")


def _refuse(sentence: str) -> int:
    print(f"workbench: {sentence}", file=sys.stderr)
    return REFUSED
