"""Texts that a person edits keep their words, and their numbers follow the records."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.records import Source
from workbench.report.text import (
    Footnote,
    See,
    Value,
    Words,
    plain,
    read_text,
    sources_of,
    values_of,
    written,
)

STRESS = Value("pull_off P-12: stress", "2.1 MPa", (Source("pull_off", "P-12"),))
KNOWN = {STRESS.name: STRESS}


def look(name: str) -> Value:
    return KNOWN.get(name, Value(name, ""))


def test_a_live_number_shows_what_its_record_says_and_where_it_comes_from() -> None:
    text = read_text("The fixture came off at {pull_off P-12: stress}.", look)
    assert plain(text) == "The fixture came off at 2.1 MPa."
    assert sources_of(text) == (Source("pull_off", "P-12"),)
    assert values_of(text) == {"pull_off P-12: stress": "2.1 MPa"}


def test_a_name_that_leads_to_nothing_is_told_and_not_dropped() -> None:
    text = read_text("at {pull_off P-99: stress} today", look)
    assert plain(text) == "at [no such number: pull_off P-99: stress] today"


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("{see figure plan}", See("figure plan")),
        ("{note: lens x10}", Footnote("lens x10")),
        ("{ pull_off  P-12: stress }", STRESS),
        ("{{not a name}}", Words("{not a name}")),
    ],
)
def test_each_kind_of_brace_is_read(typed: str, read: object) -> None:
    assert read_text(typed, look) == (read,)


PIECES = st.one_of(
    st.text(st.characters(codec="utf-8"), min_size=1).map(Words),
    st.just(STRESS),
    st.sampled_from(("figure plan", "table pull-offs")).map(See),
)


@given(st.lists(PIECES, max_size=6))
def test_what_is_written_reads_back_as_the_same_words_and_numbers(
    pieces: list[Words | Value | See],
) -> None:
    text = tuple(pieces)
    again = read_text(written(text), look)
    assert plain(again) == plain(text)
    assert written(again) == written(text)
    assert values_of(again) == values_of(text)
