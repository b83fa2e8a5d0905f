"""Every model keeps the promises that Qt asks of models, filled, changed and empty."""

from pathlib import Path

import pytest
from PySide6.QtCore import QAbstractItemModel, QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester

from workbench.desk.case import Case
from workbench.desk.questions.layers import layers_of
from workbench.desk.questions.sources import Grounds, trace_of
from workbench.records import Dossier, Photo, PullOff, Rating, Source
from workbench.records.codes import Chapter
from workbench.trade.showing import Showing
from workbench.ui.chapters import ChapterModel, Entry
from workbench.ui.entry.model import EntryModel
from workbench.ui.layers.model import PlaneModel
from workbench.ui.photos.gallery import PhotoModel
from workbench.ui.photos.thumbnails import Thumbnails
from workbench.ui.sources.model import TraceModel

FATAL = QAbstractItemModelTester.FailureReportingMode.Fatal


def watched(model: QAbstractItemModel) -> QAbstractItemModelTester:
    return QAbstractItemModelTester(model, FATAL)


def test_the_planes_of_a_stack(held: Dossier) -> None:
    model = PlaneModel()
    tester = watched(model)
    stack = layers_of(held, "FC-3", None, Showing())
    model.show_stack(stack)
    assert model.rowCount() == 8  # glue, D, C/D, C, B/C, B, A/B, A
    model.show_stack(stack)
    model.show_stack(layers_of(held, "no such system", None, Showing()))
    assert model.rowCount() == 0
    assert tester.model() is model


def test_the_chapters_and_their_pages() -> None:
    model = ChapterModel()
    tester = watched(model)
    pages = [Entry(Chapter.SURVEY, title="Survey"), Entry(Chapter.SURVEY, "photo", "Photos", 3)]
    model.show_entries(pages)
    assert model.index(1).data(Qt.ItemDataRole.AccessibleTextRole) == "Photos, 3"
    model.show_entries(pages[:1])
    assert model.row_of("photo") is None
    assert tester.model() is model


def test_the_tree_of_sources_opened_to_its_ends(held: Dossier, made_once: Path) -> None:
    with Case.open(made_once, read_only=True) as case:
        grounds = Grounds(held, case.history, Showing(), case.originals)
        model = TraceModel()
        tester = watched(model)
        model.show_trace(trace_of(Source("lab_result", "R-003"), grounds), grounds)
        assert opened(model, QModelIndex(), depth=4) > 60
        model.show_trace(None, None)
        assert model.rowCount() == 0
        assert tester.model() is model


def opened(model: TraceModel, parent: QModelIndex, depth: int) -> int:
    """Open every step down to `depth` and return how many there are."""
    rows = model.rowCount(parent)
    if depth == 0:
        return rows
    return rows + sum(opened(model, model.index(row, 0, parent), depth - 1) for row in range(rows))


def test_a_record_does_not_open_below_itself_again(held: Dossier, made_once: Path) -> None:
    with Case.open(made_once, read_only=True) as case:
        grounds = Grounds(held, case.history, Showing(), case.originals)
        model = TraceModel()
        model.show_trace(trace_of(Source("sample", "S-01"), grounds), grounds)
        assert not any(repeated(model, QModelIndex(), (Source("sample", "S-01"),)))


def repeated(
    model: TraceModel, parent: QModelIndex, above: tuple[Source, ...], depth: int = 4
) -> list[Source]:
    found: list[Source] = []
    for row in range(model.rowCount(parent) if depth else 0):
        index = model.index(row, 0, parent)
        trace = model.trace_at(index)
        source = trace.source if trace else None
        if source and source in above and model.hasChildren(index):
            found.append(source)
        found += repeated(model, index, (*above, source) if source else above, depth - 1)
    return found


def test_the_photographs(held: Dossier, tmp_path: Path, qapp: object) -> None:
    thumbnails = Thumbnails(lambda _name: None, tmp_path, qapp)  # type: ignore[arg-type]
    model = PhotoModel(thumbnails)
    tester = watched(model)
    photos = held.all(Photo)
    model.show_photos(photos)
    assert model.rowCount() == len(photos)
    model.show_photos(photos[:2])
    model.show_photos(())
    assert tester.model() is model
    thumbnails.close()


@pytest.mark.parametrize("kind", [PullOff, Rating], ids=lambda kind: kind.noun)
def test_rows_that_are_being_entered(kind: type[PullOff | Rating], held: Dossier) -> None:
    model = EntryModel()
    tester = watched(model)
    model.show_rows(kind, held, [])
    assert model.rowCount() == 1
    model.write(0, "location", "L301")
    assert model.rowCount() == 2
    model.write(1, "location", "L302")
    assert [row["location"] for row in model.rows] == ["L301", "L302"]
    model.drop_ready()
    assert tester.model() is model
