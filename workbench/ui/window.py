"""The window: one case at a time on the desk, or the first page while there is none."""

import gc
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QThreadPool
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QStackedWidget

from workbench.records import KnownError
from workbench.ui.actions import commands_of
from workbench.ui.ask import Ask
from workbench.ui.bench import Bench
from workbench.ui.commands import Commands
from workbench.ui.desk import Desk
from workbench.ui.drafts import Drafts
from workbench.ui.parts import elided, scrolled
from workbench.ui.settings import Settings
from workbench.ui.theme import wear
from workbench.ui.welcome import Welcome
from workbench.ui.work_line import WorkLine

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from workbench.desk.case import Case
    from workbench.ui.guide import Guide
    from workbench.ui.tasks import Step

_APP_NAME = "Coating-failure workbench"


class Window(QMainWindow):
    """Holds the first page and, while a case is open, its desk."""

    def __init__(self, settings: Settings, ask: Ask | None = None) -> None:
        """Show the first page."""
        super().__init__()
        self.settings = settings
        self.dress()
        self.ask = ask or Ask()
        self.bench: Bench | None = None
        self.desk: Desk | None = None
        self.guide: Guide | None = None
        self.welcome = Welcome(settings, self.ask)
        self._stack = QStackedWidget(self)
        self._stack.addWidget(scrolled(self.welcome))
        self.setCentralWidget(self._stack)
        self._told = elided("quiet", self)
        self.statusBar().addWidget(self._told, 1)
        self.statusBar().setSizeGripEnabled(False)
        self.work = WorkLine(self)
        self.statusBar().addPermanentWidget(self.work)
        self.work.told.connect(lambda words, wrong: self.tell(words, wrong=wrong))
        self.commands = Commands(self, commands_of(self))
        self.commands.allow(case_open=False)
        self.welcome.made.connect(self.make_case)
        self.welcome.chosen.connect(self.open_case)
        self.welcome.example.connect(self.ask_example)
        self.welcome.book.connect(self.ask_book)
        self._restore()
        self._name_window()

    # -- cases

    def open_case(self, folder: Path, *, read_only: bool = False) -> bool:
        """Open the case in `folder` and return whether it is open; a refusal is told."""
        from workbench.desk.case import Case

        author = self.settings.author
        return self._begin(lambda: Case.open(folder, author=author, read_only=read_only))

    def make_case(self, folder: Path, entries: dict[str, str], name: str = "") -> bool:
        """Make a case in `folder`, called `name` or by its reference, and open it."""
        from workbench.desk.acts import Add
        from workbench.desk.case import Case
        from workbench.records import CaseEntry

        def made() -> "Case":
            where = folder / f"{_file_name(name or entries.get('reference', ''))}.case"
            case = Case.create(where, author=self.settings.author)
            said = tuple(CaseEntry(key=key, value=value) for key, value in entries.items())
            if said:
                case.do(Add(said))
            return case

        return self._begin(made)

    def ask_example(self, name: str) -> None:
        """Ask where the sample case called `name` is to be made."""
        title = "Folder in which the example is made"
        self.ask.folder(self, title, lambda folder: self.make_example(name, folder))

    def make_example(self, name: str, folder: Path) -> None:
        """Make the sample case called `name` in `folder`, and open it."""
        from workbench.desk.intake import make_from_book
        from workbench.resources import sample_case

        where, author = folder / f"{name}.case", self.settings.author
        if where.exists():
            self.open_case(where)
            return
        why = "sample case; everything in it is invented"

        def work(step: "Step") -> Path:
            return make_from_book(where, sample_case(name), author=author, why=why, step=step)

        self.work.begin("Making the example", work, self.open_case)

    def ask_book(self) -> None:
        """Ask for a field book, and where the case made of it shall lie."""

        def then(book: Path) -> None:
            title = "Folder in which the case is made"
            self.ask.folder(self, title, lambda folder: self.begin_with_book(book, folder))

        self.ask.file(self, "Field book", "Field books (*.xlsx)", then)

    def begin_with_book(self, book: Path, folder: Path) -> None:
        """Make a case in `folder` named after `book`, and show what the book would put into it."""
        if self.make_case(folder, {}, book.stem) and self.desk:
            self.desk.errands.take_in(book)

    def close_case(self) -> None:
        """Put the case away and show the first page."""
        if self.bench is None or self.desk is None:
            return
        self.desk.save_state(self.settings.store)
        self.desk.close_down()
        self._stack.removeWidget(self.desk)
        self.bench.close()
        self.desk.deleteLater()
        self.bench.deleteLater()
        self.bench, self.desk = None, None
        self.commands.allow(case_open=False)
        self.welcome.renew()
        self._name_window()

    def _begin(self, opened: "Callable[[], Case]") -> bool:
        with _no_collector():
            try:
                case = opened()
            except (KnownError, OSError) as wrong:
                self.tell(str(wrong), wrong=True)
                return False
            self._show_case(case)
        if self.desk and self.desk.page:
            self.desk.page.enter()
        return True

    def _show_case(self, case: "Case") -> None:
        self.close_case()
        self.settings.remember(case.folder)
        self.bench = Bench(case, Drafts(self.settings.drafts, case.folder), self)
        self.desk = self._new_desk(self.bench)
        self.desk.restore_state(self.settings.store)
        self._stack.addWidget(self.desk)
        self._stack.setCurrentWidget(self.desk)
        self.bench.told.connect(self.tell)
        self.bench.refused.connect(lambda words: self.tell(words, wrong=True))
        self.bench.changed.connect(self._on_changed)
        self.bench.answers.ready.connect(self._on_ready)
        self.commands.allow(case_open=True)
        self._on_changed()
        self.tell(self._opened_words(case))

    def _new_desk(self, bench: Bench) -> Desk:
        desk = Desk(bench, lambda: self.commands.all, self)
        desk.doing.connect(lambda command: command.act())
        return desk

    def _opened_words(self, case: "Case") -> str:
        if case.read_only:
            return f"Open for reading only: {case.read_only_because}"
        return f"{case.folder.name} is open; everything done is saved at once."

    # -- what it says

    @property
    def told(self) -> str:
        """What stands at the foot of the window."""
        return self._told.text()

    def tell(self, words: str, *, wrong: bool = False) -> None:
        """Say something at the foot of the window; what is wrong stays until the next thing."""
        self._told.setText(f"✕ {words}" if wrong else words)
        self._told.setToolTip(words)
        self._told.setProperty("role", "wrong" if wrong else "quiet")
        self._told.style().unpolish(self._told)
        self._told.style().polish(self._told)

    def _on_changed(self) -> None:
        if self.bench is None:
            return
        self._name_window()
        self._name_undo()

    def _name_undo(self) -> None:
        """Say in the menu what would be undone and done again, once it is known."""
        if self.bench is None:
            return
        found = self.bench.answers.ask(self.bench.undoable)
        for name, sentence in zip(("Undo", "Redo"), found or ("", ""), strict=True):
            action = self.commands.action(name)
            told = sentence.replace("&", "&&")
            action.setText(f"&{name}: {told}" if told else f"&{name}")
            wanted = found is None or bool(sentence)
            action.setEnabled(wanted and not self.bench.case.read_only)

    def _on_ready(self, question: object) -> None:
        if self.bench and question is self.bench.undoable:
            self._name_undo()

    def _name_window(self) -> None:
        if self.bench is None:
            self.setWindowTitle(_APP_NAME)
            return
        dossier = self.bench.dossier
        said = [dossier.entry("reference"), dossier.entry("title"), _APP_NAME]
        self.setWindowTitle(" · ".join(part for part in said if part))

    # -- how it looks

    def dress(self) -> None:
        """Wear the scheme and the size of text that were chosen."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            wear(app, dark=self.settings.dark, percent=self.settings.text_percent)

    def set_text(self, percent: int) -> None:
        """Show text at `percent` of its normal size."""
        self.settings.text_percent = percent
        self._build_anew()

    def set_scheme(self, scheme: str) -> None:
        """Wear light, dark, or what the system says."""
        self.settings.scheme = scheme
        self._build_anew()

    def _build_anew(self) -> None:
        """Dress, and lay the desk out again, since lengths follow the size of text."""
        if self.desk:
            self.desk.save_state(self.settings.store)
        self.dress()
        if self.bench is None or self.desk is None:
            return
        shown, old = self.desk.key, self.desk
        old.close_down()
        self.desk = self._new_desk(self.bench)
        self._stack.addWidget(self.desk)
        self._stack.setCurrentWidget(self.desk)
        self._stack.removeWidget(old)
        old.deleteLater()
        self.desk.open_page(shown)
        self.desk.restore_state(self.settings.store)

    def show_guide(self) -> None:
        """Open the guide beside the window."""
        from workbench.ui.guide import Guide

        if self.guide is None:
            self.guide = Guide(self.commands.all, self)
        self.guide.show()
        self.guide.raise_()
        self.guide.activateWindow()
        self.guide.list.setFocus()

    # -- its end

    def closeEvent(self, event: QCloseEvent) -> None:
        """Remember the window's shape, let the case go, and wait for what runs beside."""
        self.settings.store.setValue("window/geometry", self.saveGeometry())
        self.close_case()
        if self.guide:
            self.guide.close()
        QThreadPool.globalInstance().waitForDone()
        event.accept()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the system's scheme while it decides."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ThemeChange and self.settings.scheme == "system":
            self.dress()

    def _restore(self) -> None:
        geometry = self.settings.store.value("window/geometry")
        self.resize(1280, 800)
        if geometry is not None:
            self.restoreGeometry(geometry)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)


def _file_name(reference: str) -> str:
    """Return a reference as the name of a folder."""
    kept = "".join(sign if sign.isalnum() or sign in "-_." else "-" for sign in reference)
    return kept.strip("-.") or "case"


@contextmanager
def _no_collector() -> "Iterator[None]":
    """Look for no garbage while a case is opened: what is made then lives as long as the case."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()
