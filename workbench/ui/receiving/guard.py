"""Telling a scanner from a person's keys: a burst of keys goes to the scan line and nowhere else.

A scanner is a keyboard. Its keys follow each other within a few milliseconds and end with Enter; a
person's do not. Every key is held back for a moment: when others follow at once the burst is one
scan, otherwise the key is given to where it was meant for. So no Enter, space or tab of a scan ever
presses a button or changes a field.
"""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QTimer, Signal
from PySide6.QtGui import QKeyEvent, Qt
from PySide6.QtWidgets import QApplication, QWidget

PAUSE_MS = 60
"""A longer pause than this ends a burst; scanners send a key every 1 to 15 ms."""
LEAST_KEYS = 4
"""A burst of fewer keys is a person's."""
_ENDS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})
_COMMANDS = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class ScanGuard(QObject):
    """Stands before the keys of one page while it is seen.

    Attributes:
        scanned: A scan, as the text that was sent, without its Enter.
    """

    scanned = Signal(str)

    def __init__(self, page: QWidget) -> None:
        """Guard `page` and all within it."""
        super().__init__(page)
        self._page = page
        self._held: list[tuple[QObject, QKeyEvent]] = []
        self._giving_back = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(PAUSE_MS)
        self._timer.timeout.connect(self._on_pause)
        self._standing = False

    def stand(self, *, on: bool) -> None:
        """Begin or end to hold keys back."""
        app = QApplication.instance()
        if app is None or on == self._standing:
            return
        self._standing = on
        if on:
            app.installEventFilter(self)
        else:
            app.removeEventFilter(self)
            self._on_pause()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hold back a key that goes to a widget of the page."""
        if self._giving_back or event.type() not in {
            QEvent.Type.KeyPress, QEvent.Type.KeyRelease, QEvent.Type.ShortcutOverride,
        }:  # fmt: skip
            return False
        if not isinstance(event, QKeyEvent) or not self._concerns(watched):
            return False
        if event.type() is QEvent.Type.ShortcutOverride:
            return False
        if event.type() is QEvent.Type.KeyRelease:
            return self._hold_release(watched, event)
        if not _of_a_scan(event):
            self._on_pause()
            return False
        if self._paused_before(event):
            self._on_pause()
        self._held.append((watched, _copy(event)))
        if Qt.Key(event.key()) in _ENDS and len(self._presses()) > LEAST_KEYS:
            self._on_pause()
        else:
            self._timer.start()
        return True

    def _paused_before(self, event: QKeyEvent) -> bool:
        """Return whether a pause lay before a key, by the clock of the keyboard.

        While the program was busy keys have queued up, and arrive at once.
        """
        times = [held.timestamp() for held in self._presses()]
        return bool(times and times[-1] and event.timestamp() - times[-1] > PAUSE_MS)

    def _concerns(self, watched: QObject) -> bool:
        return isinstance(watched, QWidget) and (
            watched is self._page or self._page.isAncestorOf(watched)
        )

    def _hold_release(self, watched: QObject, event: QKeyEvent) -> bool:
        if not self._held:
            return False
        self._held.append((watched, _copy(event)))
        return True

    def _presses(self) -> list[QKeyEvent]:
        return [event for _, event in self._held if event.type() is QEvent.Type.KeyPress]

    def _on_pause(self) -> None:
        """Give the burst to the scan line, or the keys back to where they were meant for."""
        self._timer.stop()
        held, self._held = self._held, []
        presses = [event for _, event in held if event.type() is QEvent.Type.KeyPress]
        if len(presses) >= LEAST_KEYS:
            text = "".join(event.text() for event in presses if Qt.Key(event.key()) not in _ENDS)
            self.scanned.emit(text.strip())
            return
        self._giving_back = True
        try:
            for watched, event in held:
                target = QApplication.focusWidget() or watched
                QCoreApplication.sendEvent(target, event)
        finally:
            self._giving_back = False


def _of_a_scan(event: QKeyEvent) -> bool:
    """Return whether a scanner may send this key: letters, signs, Enter, tab."""
    if event.modifiers() & _COMMANDS or event.isAutoRepeat():
        return False
    key = Qt.Key(event.key())
    return (
        key in _ENDS or key is Qt.Key.Key_Tab or bool(event.text() and event.text().isprintable())
    )


def _copy(event: QKeyEvent) -> QKeyEvent:
    copy = QKeyEvent(
        event.type(), event.key(), event.modifiers(), event.nativeScanCode(),
        event.nativeVirtualKey(), event.nativeModifiers(), event.text(), event.isAutoRepeat(),
        event.count(),
    )  # fmt: skip
    copy.setTimestamp(event.timestamp())
    return copy
