"""What holds for every test of the window: nothing blocks, leaks, or writes where people live."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSettings, QStandardPaths, QThreadPool
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QMenu
from pytestqt.qtbot import QtBot
from tools.books import SAMPLE_CASES

from workbench.desk.case import Case
from workbench.desk.intake import make_from_book
from workbench.records import Dossier
from workbench.ui.bench import Bench
from workbench.ui.drafts import Drafts
from workbench.ui.settings import Settings
from workbench.ui.theme import wear
from workbench.ui.window import Window

NAME = "bottling-hall-floor"


@pytest.fixture(autouse=True)
def _at_home_nowhere(tmp_path: Path) -> Iterator[None]:
    """Keep settings and drafts in the test's own folder."""
    QStandardPaths.setTestModeEnabled(True)
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    for scope in (QSettings.Scope.UserScope, QSettings.Scope.SystemScope):
        QSettings.setPath(QSettings.Format.IniFormat, scope, str(tmp_path / "settings"))
    yield
    QStandardPaths.setTestModeEnabled(False)


@pytest.fixture(autouse=True)
def _nothing_blocks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fail a test that opens a window which waits for a person."""

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("a window that blocks was opened")

    for kind in (QDialog, QFileDialog, QMenu):
        monkeypatch.setattr(kind, "exec", refuse)


@pytest.fixture(autouse=True)
def _nothing_is_computed(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Compute nothing beside the screen where a test does not say that it needs it."""
    wanted = request.node.get_closest_marker("computing") is not None
    monkeypatch.setattr("workbench.ui.answers._AFTER_MS", 0 if wanted else 10_000_000)


@pytest.fixture(autouse=True)
def _nothing_runs_on(qapp: QApplication) -> Iterator[None]:
    """Fail a test that leaves a thread at work or a window open."""
    yield
    assert QThreadPool.globalInstance().waitForDone(20_000)
    qapp.processEvents()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    left = [one for one in qapp.topLevelWidgets() if isinstance(one, Window) or one.isVisible()]
    assert not left, left


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample case, made once; tests copy it."""
    folder = tmp_path_factory.mktemp("sample") / f"{NAME}.case"
    return make_from_book(folder, SAMPLE_CASES / NAME, author="Ann")


@pytest.fixture(scope="session")
def held(made_once: Path) -> Dossier:
    """The records of the sample case."""
    with Case.open(made_once, read_only=True) as case:
        return case.dossier


@pytest.fixture
def sample(made_once: Path, tmp_path: Path) -> Path:
    """A copy of the sample case."""
    return Path(shutil.copytree(made_once, tmp_path / made_once.name))


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """Settings with a name and nothing else."""
    del tmp_path
    made = Settings()
    made.author = "Ann"
    made.scheme = "light"
    return made


@pytest.fixture
def bench(sample: Path, tmp_path: Path, qapp: QApplication) -> Iterator[Bench]:
    """The sample case on a bench, without a window."""
    wear(qapp, dark=False)
    made = Bench(Case.open(sample, author="Ann"), Drafts(tmp_path / "drafts", sample))
    yield made
    made.close()
    QThreadPool.globalInstance().waitForDone()
    made.deleteLater()


@pytest.fixture
def window(sample: Path, settings: Settings, qtbot: QtBot) -> Iterator[Window]:
    """The window with the sample case open."""
    made = Window(settings)
    made.resize(1280, 800)
    made.show()
    assert made.open_case(sample)
    qtbot.waitUntil(made.isVisible)
    yield made
    made.close()
    made.deleteLater()
