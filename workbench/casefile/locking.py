"""One writer at a time: whoever holds the lock of a case folder may write."""

import contextlib
from pathlib import Path

from filelock import FileLock, Timeout

LOCK_NAME = "case.lock"
_HOLDER_NAME = "case.holder"


class WriterLock:
    """The right to write to one case folder; it ends with the program, however it ends."""

    def __init__(self, folder: Path, holder: str) -> None:
        """Name the folder, and who is to hold it."""
        self._lock = FileLock(folder / LOCK_NAME, timeout=0, thread_local=False)
        self._holder = folder / _HOLDER_NAME
        self._name = holder

    def acquire(self) -> str:
        """Take the lock; return why it could not be taken, or an empty text."""
        try:
            self._lock.acquire()
        except Timeout:
            return f"{self._held_by()} has it open for writing"
        except (OSError, NotImplementedError) as wrong:
            reason = getattr(wrong, "strerror", None) or wrong
            return f"nothing can be written into its folder ({reason})"
        with contextlib.suppress(OSError):
            self._holder.write_text(self._name, "utf-8")
        return ""

    def release(self) -> None:
        """Let another one write."""
        with contextlib.suppress(OSError):
            self._holder.unlink(missing_ok=True)
        self._lock.release()

    def _held_by(self) -> str:
        with contextlib.suppress(OSError, UnicodeDecodeError):
            return self._holder.read_text("utf-8").strip() or "another program"
        return "another program"
