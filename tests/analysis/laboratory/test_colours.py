"""Colour and gloss of a case: instruments measure, photographs indicate."""

import pytest
from builders import dossier, make

from workbench.analysis.laboratory.colours import change, colour_changes
from workbench.records import ColourReading


def reading(ref: str = "CR-1", **more: object) -> ColourReading:
    said = {
        "means": "instrument", "lightness": "50", "red_green": "2.6772",
        "yellow_blue": "-79.7751", "gloss": "40", "angle": "60 deg",
    } | more  # fmt: skip
    return make(ColourReading, ref=ref, at="S-1", **said)


def test_the_difference_is_that_of_the_published_pair() -> None:
    # Sharma, Wu and Dalal 2005, pair 1: 2.0425
    other = reading("CR-2", red_green="0.0", yellow_blue="-82.7485", gloss="30")
    found = change(other, reading())
    assert found.de00 == pytest.approx(2.0425, abs=5e-5)
    assert found.gloss_percent == pytest.approx(75)
    assert not found.indicative
    assert found.doubts == ()


@pytest.mark.parametrize(
    ("more", "words"),
    [({"angle": "85 deg"}, "read at 85° and at 60°"), ({"angle": None}, "angle is not recorded"),
     ({"geometry": "45/0"}, "different geometries")],
)  # fmt: skip
def test_what_does_not_compare_is_told(more: dict[str, object], words: str) -> None:
    found = change(reading("CR-2", **more), reading(geometry="d/8"))
    assert words in " ".join(found.doubts)


def test_a_photograph_only_indicates_and_gives_no_gloss() -> None:
    shot = reading("CR-2", means="photograph", gloss=None, angle=None)
    assert change(shot, reading()).indicative
    assert [fault.wrong for fault in reading(means="photograph").faults()] == [
        "gloss from a photograph"
    ]


def test_a_reading_that_names_none_that_is_there_is_told() -> None:
    found, problems = colour_changes(dossier(reading(against="CR-9")))
    assert found == ()
    assert problems == ("CR-1: there is no colour reading CR-9",)
