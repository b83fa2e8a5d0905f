"""Run the workbench: the window, or the command that is named."""

import sys
from pathlib import Path

from workbench.cli.main import main as run
from workbench.cli.screen import has_screen
from workbench.records import KnownError


def main() -> int:
    """Run the workbench with the arguments of this process; return its exit code."""
    return run(sys.argv[1:], window=_window)


def _window(case: Path | None, desk: str) -> int:
    if not has_screen():
        raise KnownError(
            "there is no screen here, so no window can open; the commands work without one: "
            "workbench --help"
        )
    try:
        from workbench.ui.app import run_window  # noqa: PLC0415 - commands run without Qt
    except ImportError as wrong:
        raise KnownError(
            f"the window cannot open on this computer ({wrong}); the commands work without it: "
            "workbench --help"
        ) from wrong
    return run_window(case, desk)


if __name__ == "__main__":
    sys.exit(main())
