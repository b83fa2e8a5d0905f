"""Asking for files and folders: windows that open beside the desk and call back, never block it."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget

Then = Callable[[Path], object]


class Ask:
    """Asks a person; tests put another in its place."""

    def folder(self, parent: QWidget, title: str, then: Then, start: Path | None = None) -> None:
        """Ask for a folder that is there."""
        dialog = _dialog(parent, title, start)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        _open(dialog, then)

    def file(self, parent: QWidget, title: str, kinds: str, then: Then) -> None:
        """Ask for a file that is there; `kinds` as Qt writes filters."""
        dialog = _dialog(parent, title, None)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilter(kinds)
        _open(dialog, then)

    def files(
        self, parent: QWidget, title: str, kinds: str, then: Callable[[list[Path]], object]
    ) -> None:
        """Ask for several files that are there."""
        dialog = _dialog(parent, title, None)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.setNameFilter(kinds)
        dialog.filesSelected.connect(lambda names: then([Path(name) for name in names]))
        dialog.open()

    def new_file(self, parent: QWidget, title: str, kinds: str, name: Path, then: Then) -> None:
        """Ask where to write a file; `name` is offered."""
        dialog = _dialog(parent, title, name.parent)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setNameFilter(kinds)
        dialog.setDefaultSuffix(name.suffix.removeprefix("."))
        dialog.selectFile(name.name)
        _open(dialog, then)


def _dialog(parent: QWidget, title: str, start: Path | None) -> QFileDialog:
    dialog = QFileDialog(parent, title, str(start or ""))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    return dialog


def _open(dialog: QFileDialog, then: Then) -> None:
    dialog.fileSelected.connect(lambda name: then(Path(name)))
    dialog.open()
