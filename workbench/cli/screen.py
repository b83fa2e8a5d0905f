"""Whether this process can show a window: Qt ends it without a word to a person where it cannot."""

import os
import sys

_NAMES = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


def has_screen() -> bool:
    """Return whether there is a screen, or something that stands in for one."""
    return not sys.platform.startswith("linux") or any(os.environ.get(name) for name in _NAMES)
