"""A field book of 20,000 rows against what the bare library needs to read and write it.

    python -m pytest tests/benchmarks/bench_book.py -s

The floor is measured in the same run: openpyxl, read-only, giving every value; and openpyxl in its
write-only mode, putting the same values down without formats.
"""

import time
from collections.abc import Callable, Sequence
from pathlib import Path

from builders import make
from openpyxl import Workbook, load_workbook

from workbench.exchange.field_book.comparing import compare
from workbench.exchange.field_book.reading import read_book
from workbench.exchange.field_book.writing import write_field_book
from workbench.records import Area, Coat, Dossier, Instrument, Location, PullOff, Record

ROWS = 20_000
MOST_TIMES_FLOOR = 2.5


def large_case() -> Dossier:
    """Return a case of 20,000 pull-offs at 400 locations."""
    records: list[Record] = [
        make(Area),
        make(Coat, order=0, material="concrete"),
        make(Coat),
        make(Coat, order=2),
        make(Instrument, ref="PG-1", kind="pull-off tester"),
        *(make(Location, ref=f"L{n}", x=f"{n % 40}", y=f"{n // 40}") for n in range(400)),
    ]
    records += [
        make(
            PullOff, ref=f"P-{n}", location=f"L{n % 400}", date="2024-05-02", fixture="50 mm",
            shape="round", cut_round="yes", glue="rapid epoxy", cure="20 h", calibrated_for="50 mm",
            reading=f"{1 + n % 487 / 100:.2f} MPa", seconds=f"{10 + n % 60} s",
            breaks=f"B/C {n % 101}; C {100 - n % 101}", operator="N. N.", instrument="PG-1",
            note=f"row {n}",
        )
        for n in range(ROWS)
    ]  # fmt: skip
    return Dossier(records)


def seconds(work: Callable[[], object]) -> float:
    before = time.perf_counter()
    work()
    return time.perf_counter() - before


def bare_reading(path: Path) -> list[Sequence[object]]:
    book = load_workbook(path, read_only=True)
    rows: list[Sequence[object]] = []
    for sheet in book.worksheets:
        rows.extend(sheet.iter_rows(values_only=True))
    book.close()
    return rows


def bare_writing(path: Path, rows: Sequence[Sequence[object]]) -> None:
    book = Workbook(write_only=True)
    sheet = book.create_sheet("pull-off")
    for row in rows:
        sheet.append(row)
    book.save(path)


def show(what: str, took: float, floor: float) -> None:
    times = took / floor
    print(f"{ROWS} rows {what}: {took:.2f} s; bare {floor:.2f} s; {times:.2f} times")  # noqa: T201


def test_a_large_book_is_read_in_about_twice_the_time_of_the_bare_library(tmp_path: Path) -> None:
    case = large_case()
    path = tmp_path / "book.xlsx"
    told: list[int] = []
    writing = seconds(lambda: write_field_book(path, case))
    rows: list[Sequence[object]] = []
    floor = seconds(lambda: rows.extend(bare_reading(path)))
    floor_writing = seconds(lambda: bare_writing(tmp_path / "bare.xlsx", rows))
    before = time.perf_counter()
    reading = read_book(path, step=lambda done, _: told.append(done))
    took = time.perf_counter() - before
    assert not reading.hindrances
    comparing = seconds(lambda: compare(case, reading))
    show("read", took, floor)
    show("written", writing, floor_writing)
    show("compared", comparing, floor)
    assert not compare(case, reading)
    assert took < MOST_TIMES_FLOOR * floor
    assert len(told) > ROWS / 200
