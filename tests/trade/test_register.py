"""The register of tests that `method` columns refer to."""

import pytest

from workbench.exchange.field_book.columns import words_of
from workbench.records import LabResult, Measurement, fields_of
from workbench.trade.register import NOT_FROM_A_TEST, RegisteredTest, register

TESTS = tuple(register().values())


@pytest.mark.parametrize("test", TESTS, ids=lambda test: test.id)
def test_an_id_says_where_the_test_is_done(test: RegisteredTest) -> None:
    assert test.id.startswith({"field": "f-", "lab": "l-"}[test.setting])
    assert test.name
    assert test.standard
    assert test.cost in {"low", "medium", "high"}
    assert test.delay in {"hours", "days", "weeks"}
    assert test.destructive in {"no", "small", "yes"}


def test_only_standards_whose_scope_was_seen_in_print_are_said_to_be_read() -> None:
    read = {standard for test in TESTS for standard in test.read}
    assert read == {"ASTM D7234", "ASTM F2170", "ASTM D2621", "ASTM E1252"}


@pytest.mark.parametrize("kind", [Measurement, LabResult])
def test_a_method_column_takes_the_ids_and_what_is_no_test(
    kind: type[Measurement | LabResult],
) -> None:
    method = next(info for info in fields_of(kind) if info.name == "method")
    words = words_of(kind, method)
    assert {"f-ph", "l-ftir", "f-rh-probe", "l-petro", *NOT_FROM_A_TEST} <= set(words)
    assert len(words) == len(set(words)) >= 65
