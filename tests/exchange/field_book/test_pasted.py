"""Rows pasted from a spreadsheet."""

import pytest
from builders import make

from workbench.exchange.field_book.comparing import compare
from workbench.exchange.field_book.pasted import read_pasted
from workbench.records import Area, Dossier, Location

CASE = Dossier([make(Area), make(Area, ref="A2")])


@pytest.mark.parametrize(
    "text",
    [
        "ref\tarea\tx\ty\nL1\tA1\t1.5\t2\nL2\tA2\t4\t5\n",
        "L1\tA1\t1.5\t2\nL2\tA2\t4\t5\n",
        "area,ref,x,y\r\nA1,L1,1.5,2\r\nA2,L2,4,5\r\n",
    ],
)
def test_rows_are_read_with_their_headings_or_in_the_order_of_the_book(text: str) -> None:
    reading = read_pasted(Location, text, CASE)
    assert not reading.hindrances
    assert [(one.ref, one.area) for one in Dossier(reading.records).all(Location)] == [
        ("L1", "A1"),
        ("L2", "A2"),
    ]
    assert not reading.files
    assert len(compare(CASE, reading).added) == 2


def test_headings_that_were_taken_are_told() -> None:
    told = " ".join(map(str, read_pasted(Location, "L1\tA1\n", CASE).warnings))
    assert "no headings were pasted; they are taken as ref, area, x, y" in told


def test_what_is_wrong_is_told_at_its_cell() -> None:
    (problem,) = read_pasted(Location, "ref\tarea\nL1\tA9\n", CASE).hindrances
    assert (problem.cell, problem.wrong) == ("B2", "there is no area “A9”")


def test_nothing_pasted_is_told() -> None:
    assert read_pasted(Location, "\n", CASE).hindrances
