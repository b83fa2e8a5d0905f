"""Whether a window can open here, tried in a child: Qt aborts a process where it cannot."""

import os
import sys
import time

from PySide6.QtGui import QGuiApplication

from workbench.records import KnownError

_NAMES = ("QT_QPA_PLATFORM", "WAYLAND_DISPLAY", "DISPLAY")
_WITHOUT = frozenset({"offscreen", "minimal"})
"""Platforms of Qt that need no screen."""
_PATIENCE_S = 15.0


def require_screen() -> None:
    """See that Qt can open a window here.

    Raises:
        KnownError: It cannot; what was tried is named.
    """
    asked = os.environ.get("QT_QPA_PLATFORM", "")
    if not sys.platform.startswith("linux") or asked in _WITHOUT or _opens():
        return
    tried = ", ".join(f"{name}={value}" for name in _NAMES if (value := os.environ.get(name)))
    raise KnownError(
        f"no window can open on this screen ({tried}): nothing answers there, it refuses this "
        "user, or a library of the screen is missing (of X11 often libxcb-cursor0); the commands "
        "work without a window: workbench --help"
    )


def _opens() -> bool:
    """Return whether a child of this process comes to a screen."""
    child = os.fork()
    if not child:
        _try_and_leave()
    end = time.monotonic() + _PATIENCE_S
    while time.monotonic() < end:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status) == 0
        time.sleep(0.002)
    os.kill(child, 9)
    os.waitpid(child, 0)
    return False


def _try_and_leave() -> None:
    """Open and leave; in the child, which says nothing and leaves no image of its memory."""
    import resource

    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    silence = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silence, 2)
    left = 1
    try:
        QGuiApplication(sys.argv[:1])
        left = 0
    finally:
        os._exit(left)
