"""Records to plain values and back: nothing is lost, nothing is made up."""

import unicodedata
from typing import Any

import pytest
from anything import KIND, records
from builders import make
from hypothesis import given
from hypothesis import strategies as st

from workbench.casefile.converting import SHAPES, CellError, plain, record_of, records_of
from workbench.records import Coat, KnownError, PullOff, Record, fields_of


@given(KIND.flatmap(records))
def test_a_record_of_any_type_comes_back_as_it_went(record: Record) -> None:
    said = plain(record)
    again = record_of(type(record), said)
    assert plain(again) == said
    assert str(again) == str(record) or not unicodedata.is_normalized("NFC", str(record))


@given(st.lists(records(PullOff), max_size=5))
def test_many_records_come_back_in_their_order(some: list[Record]) -> None:
    names = SHAPES[PullOff].names
    rows = [[plain(one)[name] for name in names] for one in some]
    assert [plain(one) for one in records_of(PullOff, rows)] == [plain(one) for one in some]


def test_what_is_not_said_is_blank() -> None:
    bare = record_of(PullOff, {"ref": "P1", "location": "L1", "method": "ASTM D4541"})
    for info in fields_of(PullOff):
        if not info.required:
            assert getattr(bare, info.name) == ("" if info.type is str else None)


def test_text_is_stored_composed() -> None:
    assert plain(make(PullOff, note="e\u0301tage"))["note"] == "étage"


@pytest.mark.parametrize(
    ("kind", "said"), [(PullOff, {"note": "a\udcffb"}), (Coat, {"order": 2**63})]
)
def test_what_no_file_can_hold_is_refused_with_the_field(
    kind: type[Record], said: dict[str, Any]
) -> None:
    with pytest.raises(KnownError, match=next(iter(said))):
        plain(make(kind, **said))


@pytest.mark.parametrize(
    ("field", "value"),
    [("reading", "much"), ("method", "ISO 9999"), ("on", "two"), ("note", 7), ("breaks", b"A 100")],
)
def test_a_cell_that_the_field_cannot_be_is_named(field: str, value: Any) -> None:
    said = plain(make(PullOff)) | {field: value}
    with pytest.raises(CellError, match=f"pull_off.{field} cannot be"):
        record_of(PullOff, said)
