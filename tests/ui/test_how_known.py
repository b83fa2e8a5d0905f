"""How do you know? One key answers on every page that shows anything found or recorded."""

import pytest
from PySide6.QtCore import QModelIndex, QThreadPool
from PySide6.QtWidgets import QAbstractItemView
from pytestqt.qtbot import QtBot

from workbench.records import BY_NOUN, KINDS, Dossier, Plane, Record, Source
from workbench.records.codes import Chapter
from workbench.ui.pages.registry import HISTORY, OPEN_POINTS, PageSpec, pages_of
from workbench.ui.sources.model import TraceModel
from workbench.ui.window import Window

pytestmark = pytest.mark.computing

SPECS: dict[str, PageSpec] = {one.key: one for chapter in Chapter for one in pages_of(chapter)}
NOTHING_FOUND = {"entry", "calculators", "report", "receiving"}
"""Pages that hold what a person does next, and show nothing that was found."""
STAYS_EMPTY = {"for-and-against", "exhibit"}
"""Pages whose lists a person has not filled in the sample case."""


def told_in(window: Window) -> list[str]:
    """Return the first steps of the tree that is open."""
    assert window.desk
    tree = window.desk.sources.tree.model()
    return [str(tree.index(row, 0).data()) for row in range(tree.rowCount())]


def settled(window: Window, qtbot: QtBot) -> None:
    assert window.bench
    bench = window.bench
    qtbot.wait(60)
    pool = QThreadPool.globalInstance()
    qtbot.waitUntil(lambda: bench.answers.idle and not pool.activeThreadCount(), timeout=60_000)
    qtbot.wait(30)


def test_the_key_answers_on_every_page_that_shows_what_was_found(
    window: Window, qtbot: QtBot
) -> None:
    assert window.desk
    assert window.bench
    silent = []
    for key in (*SPECS, OPEN_POINTS, HISTORY):
        spec = SPECS.get(key)
        held = spec.count(window.bench.dossier) if spec else None
        if key in NOTHING_FOUND | STAYS_EMPTY or held == 0:
            continue
        window.bench.selection.clear()
        page = window.desk.open_page(key)
        assert page
        page.enter()
        settled(window, qtbot)
        for view in page.findChildren(QAbstractItemView):
            if view.isVisible() and view.model() and view.model().rowCount():
                view.setCurrentIndex(view.model().index(0, 0))
                break
        qtbot.wait(10)
        window.desk.how_known()
        if not window.desk.sources.isVisible() or not told_in(window):
            silent.append(key)
        window.desk.close_sources()
    assert not silent


def kinds_below(model: TraceModel, index: QModelIndex, most: int) -> set[str]:
    """Return the types of the records in the tree, `most` steps deep."""
    found = set()
    trace = model.trace_at(index)
    if trace and trace.source:
        found.add(trace.source.noun)
    for row in range(model.rowCount(index) if most else 0):
        found |= kinds_below(model, model.index(row, 0, index), most - 1)
    return found


@pytest.mark.parametrize(
    ("source", "reached"),
    [
        (Source("pull_off", "P-12"), {"location", "area", "instrument", "photo", "party"}),
        (Source("lab_result", "R-001"), {"sample", "custody", "location"}),
        (Source("sample", "S-01"), {"custody", "location", "area"}),
        (Source("custody", ""), {"sample"}),
        (Source("recoat_window", ""), {"document"}),
    ],
    ids=lambda one: str(one) if isinstance(one, Source) else "",
)
def test_the_tree_goes_down_to_reading_photograph_document_person_custody_and_journal(
    window: Window, held: Dossier, source: Source, reached: set[str]
) -> None:
    assert window.desk
    if not source.label:
        source = held.all(BY_NOUN[source.noun])[0].source
    window.desk.ask(source)
    model = window.desk.sources.tree.model()
    assert isinstance(model, TraceModel)
    found = kinds_below(model, QModelIndex(), 4)
    assert reached <= found
    assert any("2" in step[:4] for step in told_in(window)), "the journal stands there with its day"


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.noun)
def test_every_type_of_record_says_how_it_is_known(
    kind: type[Record], held: Dossier, window: Window
) -> None:
    assert window.desk
    for record in held.all(kind)[:3]:
        window.desk.ask(record.source)
        assert told_in(window), record.label


def test_a_plane_of_the_stack_says_how_it_is_known(window: Window, qtbot: QtBot) -> None:
    assert window.desk
    settled(window, qtbot)
    view = window.desk.layers.view
    row = view.planes.row_of(Plane("C/D"))
    assert row is not None
    view.setCurrentIndex(view.planes.index(row, 0))
    window.desk.go_to_stack()
    window.desk.how_known()
    assert len(told_in(window)) > 5


def test_sources_of_a_spectrum_go_on_to_the_sample_and_its_custody_in_sight(
    window: Window, qtbot: QtBot
) -> None:
    assert window.desk
    page = window.desk.open_page("spectra")
    assert page
    page.enter()
    settled(window, qtbot)
    window.desk.how_known()
    tree = window.desk.sources.tree
    model = window.desk.sources.tree.model()
    samples = [
        index for row in range(model.rowCount())
        if str((index := model.index(row, 0)).data()).startswith("Sample ")
    ]  # fmt: skip
    assert samples
    assert all(tree.isExpanded(index) for index in samples)
    below = [str(model.index(row, 0, samples[0]).data()) for row in range(
        model.rowCount(samples[0]))]  # fmt: skip
    assert any(title.endswith("received") for title in below)
    high = 3 * tree.rowHeight(model.index(0, 0))
    qtbot.waitUntil(lambda: tree.viewport().height() >= high, timeout=5_000)
    window.desk.close_sources()
