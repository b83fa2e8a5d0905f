"""The JCAMP-DX reader: published strings, the public test disk, damaged files."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.spectra.spectrum import Ordinate
from workbench.exchange.jcamp import read_jcamp, spectrum_of

FILES = Path(__file__).parent / "jcamp_files"
COUNTDOWN = [1, 2, 3, 3, 2, 1, 0, -1, -2, -3]
PUBLISHED = {  # READ: the same ten ordinates in each form, in several independent test suites
    "FIX": "0 1 2 3 3 2 1 0 -1 -2 -3",
    "PAC": "0 1+2+3+3+2+1+0-1-2-3",
    "SQZ": "0 1BCCBA@abc",
    "DIF": "0 1JJ%jjjjjj",
    "DIFDUP": "0 1JT%jX",
}


def a_file(table: str, *, count: int, first: float = 0, last: float | None = None) -> bytes:
    end = first + count - 1 if last is None else last
    head = f"##TITLE=t\n##FIRSTX={first}\n##LASTX={end}\n##NPOINTS={count}\n"
    return f"{head}##XYDATA=(X++(Y..Y))\n{table}\n##END=\n".encode()


@pytest.mark.parametrize("form", PUBLISHED)
def test_the_published_string_of_each_form_reads_as_the_same_ten_ordinates(form: str) -> None:
    found = read_jcamp(a_file(PUBLISHED[form], count=10))
    assert found.problems == ()
    assert found.blocks[0].y.tolist() == COUNTDOWN


def test_the_53_point_table_of_the_protocol_reads_point_for_point() -> None:
    # READ: "Table VI.3" of the JCAMP-DX 4.24 protocol, in several independent test suites
    table = "4@VKT%TLkj%J%KLJ%njKjL%kL%jJULJ%kLK1%lLMNPNPRLJ0QTOJ1P\n56A28"
    expected = [
        0, 0, 0, 0, 2, 4, 4, 4, 7, 5, 4, 4, 5, 5, 7, 10, 11, 11, 6, 5, 7, 6, 9, 9, 7, 10, 10, 9,
        10, 11, 12, 15, 16, 16, 14, 17, 38, 38, 35, 38, 42, 47, 54, 59, 66, 75, 78, 88, 96, 104,
        110, 121, 128,
    ]  # fmt: skip
    found = read_jcamp(a_file(table, count=53, first=4))
    assert found.problems == ()
    assert found.blocks[0].y.tolist() == expected
    assert found.blocks[0].x[[0, -1]].tolist() == [4, 56]


@pytest.mark.parametrize(
    ("table", "ordinates"),
    [
        ("0A666TK1", [1666, 1666, 1687]),  # a repeat after a squeezed number
        ("0A00J1T5", [100, *(100 + 11 * n for n in range(1, 26))]),  # a repeat of two digits
        ("0A5UJ1", [15, 15, 15, 26]),
        ("0 ? 3", [np.nan, 3]),
    ],
)
def test_repeats_count_the_first_and_missing_stays_missing(
    table: str, ordinates: list[float]
) -> None:
    found = read_jcamp(a_file(table, count=len(ordinates)))
    assert found.problems == ()
    np.testing.assert_array_equal(found.blocks[0].y, ordinates)


@pytest.mark.parametrize(
    ("name", "count", "first", "last"),
    [
        ("dupinc2.jdx", 3734, 400.172, 3999.792),
        ("jtpolys.jdx", 1844, None, None),
        ("pacdec1.jdx", None, None, None),
        ("sqzdupd1.jdx", None, None, None),
        ("fixinc1.jdx", None, None, None),
    ],
)
def test_a_file_of_the_public_test_disk_has_the_points_its_header_says(
    name: str, count: int | None, first: float | None, last: float | None
) -> None:
    found = read_jcamp((FILES / name).read_bytes(), name)
    (block,) = found.blocks
    assert [p for p in found.problems if "MINY" not in p.wrong] == []
    assert len(block.y) == (count or int(block.labels["NPOINTS"].split()[0]))
    assert block.x[0] == pytest.approx(first or float(block.labels["FIRSTX"]))
    assert block.x[-1] == pytest.approx(last or float(block.labels["LASTX"]))


def test_the_largest_and_smallest_ordinate_are_those_of_the_header() -> None:
    (block,) = read_jcamp((FILES / "jtpolys.jdx").read_bytes()).blocks
    assert block.y.max() == pytest.approx(float(block.labels["MAXY"]), rel=1e-3)
    assert block.y.min() == pytest.approx(float(block.labels["MINY"]), rel=1e-3)


def test_a_wrong_factor_is_told_by_the_first_ordinate_and_the_forms_agree_once_mended() -> None:
    plain = read_jcamp((FILES / "jtpolys.jdx").read_bytes()).blocks[0]
    packed = (FILES / "jtpolysd.jdx").read_bytes()
    told = read_jcamp(packed)
    assert [p.wrong.split()[0] for p in told.problems] == ["FIRSTY", "MAXY"]
    mended = read_jcamp(packed.replace(b"2.3884185791", b"2.384185791"))
    assert mended.problems == ()
    np.testing.assert_allclose(mended.blocks[0].y, plain.y, rtol=0, atol=1e-12)


def test_a_header_that_disagrees_with_the_least_ordinate_is_told() -> None:
    # the file of the test disk says MINY 0.5 over a table that goes down to -0.23
    told = read_jcamp((FILES / "dupinc2.jdx").read_bytes()).problems
    assert [p.wrong for p in told] == ["MINY says 0.5, the table has -0.23"]
    assert not told[0].hinders


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ((b"##YFACTOR= 1", b"##YFACTOR= 0"), "says 0, which leaves nothing"),
        ((b"##YFACTOR= 1", b"##YFACTOR= 0,01"), "which is no number"),
        ((b"##XFACTOR= 1", b"##XFACTOR= 10"), "where the header makes it"),
        ((b"##LASTX= 99", b"##LASTX= 990"), "where the header makes it"),
        ((b"##FIRSTX= 0\n##LASTX= 99", b"##FIRSTX= 99\n##LASTX= 0"), "lines are astray"),
    ],
)
def test_a_header_against_the_whole_table_gives_no_points(
    change: tuple[bytes, bytes], words: str
) -> None:
    rows = b"\n".join(b"%d " % n + b" ".join(b"%d" % (m % 7) for m in range(n, n + 10))
                      for n in range(0, 100, 10))  # fmt: skip
    head = b"##TITLE= t\n##XFACTOR= 1\n##YFACTOR= 1\n##FIRSTX= 0\n##LASTX= 99\n##NPOINTS= 100\n"
    whole = head + b"##XYDATA= (X++(Y..Y))\n" + rows + b"\n##END=\n"
    assert read_jcamp(whole).problems == ()
    found = read_jcamp(whole.replace(*change))
    assert found.blocks == ()
    assert words in found.problems[0].wrong


def test_a_file_cut_off_keeps_the_places_of_the_points_it_still_has() -> None:
    whole = (FILES / "fixinc1.jdx").read_bytes()
    (full,) = read_jcamp(whole).blocks
    cut = read_jcamp(whole[: int(len(whole) * 0.7)].rpartition(b"\n")[0])
    (part,) = cut.blocks
    assert len(part.x) < len(full.x)
    np.testing.assert_allclose(part.x, full.x[: len(part.x)], rtol=0, atol=1e-9)
    told = " ".join(problem.wrong for problem in cut.problems)
    for words in ("NPOINTS", "no ##END=", "the table ends at"):
        assert words in told


def test_commas_within_numbers_are_told_and_not_taken_for_two_numbers() -> None:
    found = read_jcamp(a_file("0 1,5 2,5 3,5\n3 1,5 2,5 3,5", count=6))
    assert found.blocks == ()
    assert "commas stand within numbers" in found.problems[0].wrong


def test_the_blocks_of_a_compound_file_are_all_read() -> None:
    found = read_jcamp((FILES / "compound.jdx").read_bytes())
    assert sum(1 for block in found.blocks if block.form) == 5


@pytest.mark.parametrize("ends", [b"\r", b"\r\n", b"\n"])
def test_line_ends_comments_and_the_old_end_of_file_mark_change_nothing(ends: bytes) -> None:
    lines = b"##TITLE= t $$ said\n##XUNITS= 1/CM\n##DELTA-X= 1\n##X Y_DATA= (X++(Y..Y)) $$ form"
    content = (lines + b"\n4 1 2 3 $$ end\n##END=\n\x1a\x00").replace(b"\n", ends)
    found = read_jcamp(content)
    assert found.problems == ()
    assert found.blocks[0].y.tolist() == [1, 2, 3]
    assert found.blocks[0].x.tolist() == [4, 5, 6]


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("0 1 2 & 3", "no number"),
        ("A12 13", "does not start with an abscissa"),
        ("0S5", "before there is one"),
        ("0 1S99999999", "99,999,999 times"),
    ],
)
def test_a_damaged_table_is_told_and_gives_no_points(table: str, words: str) -> None:
    found = read_jcamp(a_file(table, count=3))
    assert found.blocks == ()
    assert words in str(found.problems[0])
    assert found.problems[0].hinders


def test_a_lost_line_is_told_by_count_check_and_abscissa() -> None:
    whole = (FILES / "jtpolysd.jdx").read_bytes().splitlines(keepends=True)
    table = next(n for n, line in enumerate(whole) if b"XYDATA" in line)
    del whole[table + 30]
    told = [p.wrong for p in read_jcamp(b"".join(whole)).problems]
    assert any("NPOINTS" in wrong for wrong in told)
    assert any("repeated ordinate" in wrong for wrong in told)


def test_pairs_of_abscissa_and_ordinate_are_read_with_any_separator() -> None:
    head = b"##TITLE=t\n##YUNITS=ABSORBANCE\n##PEAK TABLE=(XY..XY)\n"
    found = read_jcamp(head + b"1602, 0.3; 1493,0.8\n700 0.9\n##END=")
    spectrum = spectrum_of(found.blocks[0])
    assert spectrum.x.tolist() == [700, 1493, 1602]
    assert spectrum.ordinate is Ordinate.ABSORBANCE


def test_a_header_that_says_fraction_over_percent_values_is_told() -> None:
    head = b"##TITLE=t\n##YUNITS=TRANSMITTANCE\n##XYPOINTS=(XY..XY)\n"
    spectrum = spectrum_of(read_jcamp(head + b"400 80 410 75 420 0 430 50\n##END=").blocks[0])
    assert spectrum.ordinate is Ordinate.PERCENT_TRANSMITTANCE
    assert "values are percent" in spectrum.notes[0]
    inked = spectrum.absorbance()
    assert inked.y == pytest.approx([0.09691, 0.124939, 0.30103], abs=1e-6)
    assert "1 points without" in inked.notes[-1]


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_told(noise: bytes) -> None:
    read_jcamp(noise)
    read_jcamp(b"##TITLE=x\n##XYDATA=(X++(Y..Y))\n" + noise)


@given(st.text("0123456789.+-@ABCabcJKjk%STUs? ,;E\n", max_size=80))
def test_any_table_is_read_or_told(table: str) -> None:
    found = read_jcamp(a_file(table, count=3))
    assert len(found.blocks) == 1 or found.problems
