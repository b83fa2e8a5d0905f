"""The method files: complete, sourced, and in the words that the records use."""

from dataclasses import fields
from pathlib import Path

import pytest

from workbench.records.codes import (
    LAB_QUANTITIES,
    MATERIALS,
    MEASUREMENT_QUANTITIES,
    PullOffMethod,
    RatingMethod,
    ThicknessMethod,
)
from workbench.resources import resource
from workbench.trade.basis import Status
from workbench.trade.methods import (
    Method,
    MethodError,
    method,
    methods,
    methods_of_test,
    read_method,
)
from workbench.trade.register import register
from workbench.trade.settings import Settings
from workbench.trade.units import is_unit

ASKED_FOR = [
    "ASTM D4541", "ASTM D7234", "ASTM C1583", "ISO 4624", "EN 1542", "ASTM D3359 A",
    "ASTM D3359 B", "ISO 2409", "ASTM D6677", "ASTM D4138", "ASTM D6132", "ASTM D7091",
    "SSPC-PA 2", "SSPC-PA 9", "ISO 19840", "ASTM F1869", "ASTM F2170", "ASTM D4263", "ASTM F2659",
    "ASTM D4262", "ISO 8502-6", "ISO 8502-9", "ISO 4628-1", "ISO 4628-2", "ISO 4628-3",
    "ISO 4628-4", "ISO 4628-5", "ISO 4628-6", "ASTM D610", "ASTM D714", "ASTM D660", "ASTM D661",
    "ASTM D772", "ASTM D4214", "ICRI 310.2R", "ASTM D4580", "ASTM D5402", "ASTM D4752",
    "ASTM D3363", "ASTM D2240", "ASTM D2583", "ASTM D5162", "EN 14630", "ASTM C805",
]  # fmt: skip
EVERY = pytest.mark.parametrize("one", methods().values(), ids=lambda one: one.number)


@pytest.mark.parametrize("number", ASKED_FOR)
def test_the_trade_has_a_file_for_the_method(number: str) -> None:
    assert number in methods()


def test_each_file_is_one_method() -> None:
    assert len(methods()) == len(list(Path(resource("methods")).glob("*.toml")))


@pytest.mark.parametrize("code", [*PullOffMethod, *RatingMethod])
def test_every_method_a_record_can_name_has_a_file(code: str) -> None:
    assert method(code)


def test_every_way_of_reading_a_thickness_has_a_file() -> None:
    assert all(method(way) for way in ThicknessMethod if way is not ThicknessMethod.NOT_STATED)


@EVERY
def test_a_method_says_what_it_tells_and_what_it_does_not(one: Method) -> None:
    assert one.tells.endswith(".")
    assert one.does_not_tell.endswith(".")


@EVERY
def test_what_is_read_or_recalled_names_its_source(one: Method) -> None:
    said = [(one.tests.source, one.tests.status)]
    said += [(limit.source, limit.status) for limit in one.limits]
    said += [(condition.source, condition.status) for condition in one.conditions]
    said += [(one.scale.source, one.scale.status)] if one.scale else []
    assert all(source for source, status in said if status in {Status.READ, Status.MEMORY})


@EVERY
def test_units_and_words_are_those_of_the_records(one: Method) -> None:
    units = {each.unit for each in one.quantities} | {each.unit for each in one.conditions}
    assert all(is_unit(unit) for unit in units if unit)
    for condition in one.conditions:
        if condition.name == "substrate":
            assert set(condition.values) <= MATERIALS


@EVERY
def test_a_measured_quantity_is_one_the_field_book_knows(one: Method) -> None:
    others = {"pull_off", "thickness", "hollow", "carbonation", "rebound", "holiday_voltage"}
    known = {*MEASUREMENT_QUANTITIES, *LAB_QUANTITIES, *others}
    assert {each.name for each in one.quantities} <= known


@EVERY
def test_settings_named_are_settings(one: Method) -> None:
    names = {each.name for each in fields(Settings)}
    named = {n for c in one.conditions for n in (c.setting, c.least_from, c.most_from) if n}
    assert named <= names


@EVERY
def test_tests_of_the_register_are_registered(one: Method) -> None:
    assert set(one.register) <= set(register())


@EVERY
def test_a_scale_has_its_ends_and_words(one: Method) -> None:
    if one.scale is None:
        return
    assert {one.scale.best, one.scale.worst} <= set(one.scale.values)
    assert {rating for rating, _ in one.scale.steps} <= set(one.scale.values)
    assert one.scale.goodness(one.scale.best) == 1
    assert one.scale.goodness(one.scale.worst) == 0


@pytest.mark.parametrize(
    ("number", "high"),
    [("ASTM D6677", True), ("ASTM D3359 B", True), ("ASTM D610", True), ("ASTM D4214", True),
     ("ISO 2409", False), ("ISO 4628-3", False), ("ISO 8502-3", False)],
)  # fmt: skip
def test_directions_of_scales(number: str, high: bool) -> None:
    """ASTM scales run up to the best, ISO scales down (READ for D610 and ISO 4628-1)."""
    scale = methods()[number].scale
    assert scale
    assert scale.high_is_best is high
    assert f"{scale.best:g} is the best" in scale.direction


def test_a_setting_moves_the_condition_that_rests_on_it() -> None:
    wait = methods()["ASTM F2170"].condition("wait", Settings(slab_wait_h=72))
    assert wait
    assert wait.least == 72
    air = methods()["ASTM F1869"].condition("air", Settings(emission_air_max_c=23.9))
    assert air
    assert air.most == 23.9
    assert methods()["ASTM F1869"].condition("rate", Settings()) is None


def test_a_test_of_the_register_finds_its_methods() -> None:
    assert {one.number for one in methods_of_test("f-pulloff-concrete")} == {
        "ASTM D7234", "ISO 4624", "EN 1542",
    }  # fmt: skip


def test_pull_offs_warn_of_pressure_and_recoil() -> None:
    said = " ".join(
        words for one in methods().values() if one.family == "pull-off" for words in one.cautions
    )
    assert "under pressure" in said
    assert "eye protection" in said


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("number = ", "Invalid value"),
        ('number = "X"', "required field missing @ $.title"),
        ('cautions = ["thunder"]', "thunder"),
    ],
)
def test_a_file_that_is_no_method_is_told_with_its_name(text: str, wrong: str) -> None:
    with pytest.raises(MethodError, match=r"^x\.toml: ") as told:
        read_method(text, "x.toml")
    assert wrong in str(told.value)


def test_a_record_that_does_not_exist_is_told() -> None:
    text = (resource("methods") / "astm-d6677.toml").read_text("utf-8")
    with pytest.raises(MethodError, match="noun of no record"):
        read_method(text.replace('record = "rating"', 'record = "score"'), "x.toml")
