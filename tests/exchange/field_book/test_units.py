"""Units of the field book: tidied, known, of the right kind."""

import pytest

from workbench.exchange.field_book.units import tidy_unit, unit_trouble
from workbench.records import FieldInfo, Measurement, PullOff, Record, SitePlan, fields_of
from workbench.records.codes import UNITS
from workbench.trade.units import is_unit


def field(kind: type[Record], name: str) -> FieldInfo:
    return next(info for info in fields_of(kind) if info.name == name)


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_of_the_list_can_be_converted(unit: str) -> None:
    assert is_unit(unit)
    assert tidy_unit(unit) == unit


@pytest.mark.parametrize(
    ("written", "tidy"),
    [("µm", "um"), ("PSI", "psi"), ("MPA", "MPa"), ("°C", "degC"), ("m²", "m2")],
)
def test_a_unit_is_tidied_to_plain_letters(written: str, tidy: str) -> None:
    assert tidy_unit(written) == tidy


@pytest.mark.parametrize(
    ("quantity", "unit", "wrong"),
    [
        ("moisture", "%", ""),
        ("moisture", "", "moisture without a unit"),
        ("moisture", "um", "moisture in um"),
        ("ph_face", "", ""),
        ("hardness", "Shore D", "“Shore D” is not a unit that is converted"),
        ("colour_de", "", ""),
    ],
)
def test_a_unit_that_is_unusual_for_its_quantity_is_told_and_kept(
    quantity: str, unit: str, wrong: str
) -> None:
    found = unit_trouble("measurement", field(Measurement, "value"), unit, quantity)
    assert (found.wrong if found else "") == wrong
    assert not (found and found.hinders)


@pytest.mark.parametrize(
    ("kind", "name", "unit", "hinders"),
    [
        (PullOff, "fixture", "mm", False),
        (PullOff, "fixture", "MPa", True),
        (PullOff, "fixture", "furlong", True),
        (PullOff, "fixture", "", True),
        (PullOff, "cure", "d", False),
        (SitePlan, "x0", "px", False),
        (SitePlan, "x0", "m", True),
    ],
)
def test_a_unit_of_the_wrong_kind_hinders(
    kind: type[Record], name: str, unit: str, *, hinders: bool
) -> None:
    assert bool(unit_trouble(kind.noun, field(kind, name), unit, "")) == hinders
