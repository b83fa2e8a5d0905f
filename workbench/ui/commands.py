"""Everything that can be done in the window, once: menus, keys and "find anything" follow."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu


@dataclass(frozen=True, slots=True)
class Command:
    """One thing that can be done.

    Attributes:
        menu: The menu it stands in.
        title: What it is called; `&` before the letter that chooses it in the menu.
        act: Does it.
        keys: Its key, as Qt writes it; empty for none.
        needs_case: Whether it makes sense only with a case.
        parted: Whether a line stands above it.
    """

    menu: str
    title: str
    act: Callable[[], object]
    keys: str = ""
    needs_case: bool = True
    parted: bool = False

    @property
    def name(self) -> str:
        """Its title as it is read."""
        return self.title.replace("&", "").rstrip("…")


class Commands:
    """The commands of one window, as actions."""

    def __init__(self, window: QMainWindow, commands: Sequence[Command]) -> None:
        """Put `commands` into the menus of `window`."""
        self.all = tuple(commands)
        self.menus: dict[str, QMenu] = {}
        self._actions: dict[str, QAction] = {}
        for command in commands:
            if command.menu not in self.menus:
                self.menus[command.menu] = window.menuBar().addMenu(command.menu)
            self._add(window, self.menus[command.menu], command)

    def action(self, name: str) -> QAction:
        """Return the action of the command called `name`."""
        return self._actions[name]

    def allow(self, *, case_open: bool) -> None:
        """Let be done what makes sense now."""
        for command in self.all:
            self._actions[command.name].setEnabled(case_open or not command.needs_case)

    def _add(self, window: QMainWindow, menu: QMenu, command: Command) -> None:
        if command.parted:
            menu.addSeparator()
        action = QAction(command.title, window)
        if command.keys:
            action.setShortcut(QKeySequence(command.keys))
        action.triggered.connect(lambda _checked=False: command.act())
        menu.addAction(action)
        self._actions[command.name] = action
