import tracemalloc

import pytest
from builders import dossier, make
from PySide6.QtCore import QSortFilterProxyModel, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from workbench.desk.questions.tables import columns_of
from workbench.records import KINDS, Area, Dossier, Location, PullOff, Record
from workbench.trade.showing import Showing
from workbench.ui.table.lines import Line, LinesModel
from workbench.ui.table.model import RecordModel
from workbench.ui.table.view import RecordView

FATAL = QAbstractItemModelTester.FailureReportingMode.Fatal


def pulls(number: int) -> Dossier:
    made = [make(PullOff, ref=f"P-{n}", reading=f"{n % 7}.5 MPa") for n in range(1, number + 1)]
    return dossier(make(Area), make(Location), *made)


def shown(held: Dossier, kind: type[Record]) -> RecordModel:
    model = RecordModel()
    model.show_records(columns_of(held, kind, Showing()), held.all(kind))
    return model


def column(model: RecordModel, heading: str) -> list[str]:
    at = [one.heading for one in model.columns].index(heading)
    return [str(model.index(row, at).data()) for row in range(model.rowCount())]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.noun)
def test_the_model_of_every_type_keeps_the_promises_of_qt(
    kind: type[Record], held: Dossier
) -> None:
    model = RecordModel()
    tester = QAbstractItemModelTester(model, FATAL)
    records = held.all(kind)
    model.show_records(columns_of(held, kind, Showing()), records)
    model.sort(0, Qt.SortOrder.DescendingOrder)
    model.show_records(model.columns, records[:3])
    model.show_records(model.columns, ())
    assert model.rowCount() == 0
    assert tester.model() is model


def test_the_model_of_lines_keeps_the_promises_of_qt() -> None:
    model = LinesModel(("a", "b"))
    tester = QAbstractItemModelTester(model, FATAL)
    model.show_lines([Line(("1", "2"), "behind"), Line(("3", "4"))])
    assert model.index(1, 1).data() == "4"
    assert model.index(0, 0).data(Qt.ItemDataRole.UserRole) == "behind"
    model.show_lines(())
    assert tester.model() is model


def test_a_cell_may_be_asked_for_any_number_of_times() -> None:
    # PySide6 6.12 lost a reference to None with every data() that returned it on Python 3.11
    model = shown(pulls(3), PullOff)
    index, roles = model.index(0, 0), (Qt.ItemDataRole.DecorationRole, Qt.ItemDataRole.DisplayRole)
    view = QSortFilterProxyModel()
    view.setSourceModel(model)
    through = view.index(0, 0)
    for _ in range(150_000):
        assert model.data(index, roles[0]) is None
        through.data(roles[0])
    assert model.data(index, roles[1]) == "P-1"


def test_rows_sort_by_what_they_mean_and_blanks_come_last() -> None:
    held = pulls(12).with_records([make(PullOff, ref="P-13")])
    model = shown(held, PullOff)
    model.sort(0)
    assert column(model, "ref")[:3] == ["P-1", "P-2", "P-3"]
    at = [one.heading for one in model.columns].index("reading")
    for order in (Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder):
        model.sort(at, order)
        assert column(model, "ref")[-1] == "P-13"


def test_numbers_in_different_units_sort_by_what_they_are() -> None:
    held = dossier(
        make(PullOff, ref="weak", reading="100 psi"), make(PullOff, ref="strong", reading="2 MPa"),
        make(PullOff, ref="middle", reading="1 N/mm2"),
    )  # fmt: skip
    model = shown(held, PullOff)
    model.sort([one.heading for one in model.columns].index("reading"))
    assert column(model, "ref") == ["weak", "middle", "strong"]


def test_what_is_chosen_stays_chosen_when_the_records_change(held: Dossier, qtbot: QtBot) -> None:
    view = RecordView("pulls")
    qtbot.addWidget(view)
    columns = columns_of(held, PullOff, Showing())
    records = held.all(PullOff)
    view.show_records(columns, records, "")
    view.light([records[4].id, records[7].id])
    view.show_records(columns, records[2:], "")
    assert [one.id for one in view.chosen_records()] == [records[4].id, records[7].id]
    view.show_records(columns, records[5:], "")
    assert [one.id for one in view.chosen_records()] == [records[7].id]


def test_rows_are_copied_as_a_spreadsheet_takes_them(held: Dossier, qtbot: QtBot) -> None:
    view = RecordView("pulls")
    qtbot.addWidget(view)
    view.show_records(columns_of(held, PullOff, Showing()), held.all(PullOff), "")
    view.light([view.records.records[0].id])
    head, row = (line.split("\t") for line in view.as_text().split("\n"))
    assert head[0] == "ref"
    assert row[0] == view.records.records[0].label
    assert len(head) == len(row)


def test_a_table_of_many_rows_keeps_no_text_of_its_own() -> None:
    held = pulls(2000)
    model = shown(held, PullOff)
    tracemalloc.start()
    for row in range(model.rowCount()):
        model.index(row, 0).data()
    grown, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert grown < 1_000_000
