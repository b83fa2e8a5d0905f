"""Labels: true size on the sheet, and readable by a decoder."""

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from builders import dossier, make
from PIL import Image

from workbench.exchange.labels import (
    LabelWords,
    find_payload,
    label_words,
    payload_of,
    stocks,
    write_labels,
)
from workbench.exchange.labels.symbols import code_128_modules, qr_modules, snapped_module_mm
from workbench.records import Area, CaseEntry, Location, Sample, SampleCare

DPI = 300


def pages_of(pdf: Path) -> list[Image.Image]:
    """The pages of a PDF as grey pictures at 300 dots to the inch."""
    if not shutil.which("pdftoppm"):
        pytest.skip("pdftoppm is not installed")
    subprocess.run(
        ["pdftoppm", "-r", str(DPI), "-gray", "-png", str(pdf), str(pdf.with_suffix(""))],
        check=True,
    )
    found = sorted(pdf.parent.glob(f"{pdf.stem}-*.png"))
    return [Image.open(path).convert("L") for path in found]


def some(count: int) -> list[LabelWords]:
    return [LabelWords(f"S-{n:02}", ("CF-24017", "film failing", "bay 3")) for n in range(count)]


@pytest.mark.parametrize("name", stocks())
def test_margins_labels_and_gaps_fit_the_page(name: str) -> None:
    one = stocks()[name]
    right, bottom = one.corner(one.on_a_page - 1)
    assert right + one.label[0] <= one.page[0] + 0.1
    assert bottom + one.label[1] <= one.page[1] + 0.1
    assert one.pitch[0] >= one.label[0] - 1e-9
    assert one.pitch[1] >= one.label[1] - 1e-9


@pytest.mark.parametrize("name", ["a4-21", "letter-30", "roll-62"])
def test_qr_and_bars_from_the_printed_page_decode_to_the_ref(name: str, tmp_path: Path) -> None:
    pyzbar = pytest.importorskip("pyzbar.pyzbar")
    write_labels(tmp_path / "labels.pdf", some(4), stocks()[name], first_place=0)
    found: dict[str, set[str]] = {}
    for page in pages_of(tmp_path / "labels.pdf"):
        for symbol in pyzbar.decode(page):
            found.setdefault(symbol.type, set()).add(symbol.data.decode())
    wanted = {payload_of(words.ref) for words in some(4)}
    assert found["QRCODE"] == wanted
    if name == "a4-21":
        assert found["CODE128"] == wanted


@pytest.mark.parametrize("name", ["a4-21", "a4-40", "letter-30"])
def test_labels_lie_on_the_grid_within_half_a_millimetre(name: str, tmp_path: Path) -> None:
    stock = stocks()[name]
    blank = [LabelWords("S", ())] * stock.on_a_page
    write_labels(tmp_path / "grid.pdf", blank, stock, outlines=True)
    (page,) = pages_of(tmp_path / "grid.pdf")
    grey = np.asarray(page)
    mm = 25.4 / DPI
    assert page.size == pytest.approx((stock.page[0] / mm, stock.page[1] / mm), abs=1)
    rows = (grey < 220).mean(axis=1) > 0.5
    columns = (grey < 220).mean(axis=0) > 0.5
    for found, axis in ((np.flatnonzero(columns) * mm, 0), (np.flatnonzero(rows) * mm, 1)):
        edges = [stock.margin[axis] + n * stock.pitch[axis] for n in range(stock.grid[axis])]
        edges += [edge + stock.label[axis] for edge in edges]
        for edge in edges:
            assert np.min(np.abs(found - edge)) < 0.5, (axis, edge)


def test_labels_go_on_where_the_used_sheet_ends(tmp_path: Path) -> None:
    write_labels(tmp_path / "rest.pdf", some(3), stocks()["a4-21"], first_place=20)
    assert len(pages_of(tmp_path / "rest.pdf")) == 2
    with pytest.raises(ValueError, match="places 1 to 21"):
        write_labels(tmp_path / "rest.pdf", some(1), stocks()["a4-21"], first_place=21)
    with pytest.raises(ValueError, match="no labels"):
        write_labels(tmp_path / "rest.pdf", [], stocks()["a4-21"])


@pytest.mark.parametrize(("payload", "modules"), [("24017003", 79), ("CF2401700301", 123)])
def test_the_bars_have_the_modules_that_the_symbology_counts(payload: str, modules: int) -> None:
    # counted beforehand: start, data (digits in pairs where that is shorter), check, stop
    assert len(code_128_modules(payload)) == modules


def test_a_ref_of_twelve_letters_makes_the_smallest_qr_symbol() -> None:
    assert len(qr_modules("CF2401700301")) == 21


def test_module_widths_are_whole_printer_dots() -> None:
    assert snapped_module_mm(0.4, 300) == pytest.approx(5 * 25.4 / 300)
    assert snapped_module_mm(0.001, 300) == pytest.approx(25.4 / 300)


def test_a_scan_finds_its_ref_and_tells_refs_that_look_alike() -> None:
    refs = ("S-06", "S-06/1", "S-061", "S-07")
    assert find_payload("S07", refs) == ("S-07",)
    assert find_payload("s06", refs) == ("S-06",)
    assert find_payload("S061", refs) == ("S-06/1", "S-061")
    assert find_payload("S-06/1", refs) == ("S-06/1",)
    assert find_payload("4006381333931", refs) == ()
    with pytest.raises(ValueError, match="no letter"):
        payload_of("—")


def test_a_label_says_case_kind_place_date_collector_and_hazard() -> None:
    sample = make(Sample, ref="S-01", at="L1", taken="2024-11-12 14:05", taken_by="R. T.")
    held = dossier(
        make(CaseEntry, key="reference", value="CF-24017"),
        make(Area, ref="A1", name="Bay 3"),
        make(Location, ref="L1", area="A1"),
        sample,
        make(SampleCare, sample="S-01", hazards="lead"),
    )
    words = label_words(held, sample)
    assert words.lines == ("CF-24017", "film", "L1 · Bay 3", "taken 2024-11-12 14:05", "R. T.")
    assert words.hazards == "lead"
