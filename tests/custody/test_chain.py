"""A chain of entries: its byte form, and what it finds."""

import hashlib
import json
import unicodedata
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.custody import chain
from workbench.custody.chain import (
    BEFORE_THE_FIRST,
    Head,
    Link,
    agrees,
    byte_form,
    first_break,
    head_of,
    link,
)
from workbench.records import NotUnderstoodError


def outside_hashes(lines: list[str]) -> list[str]:
    """Reckon a chain from JSON lines as somebody without the program would."""

    def composed(value: Any) -> Any:
        if isinstance(value, str):
            return unicodedata.normalize("NFC", value)
        if isinstance(value, list):
            return [composed(one) for one in value]
        if isinstance(value, dict):
            return {composed(name): composed(one) for name, one in value.items()}
        return value

    prev, hashes = "0" * 64, []
    for line in lines:
        entry = composed(json.loads(line))
        form = json.dumps(entry, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        prev = hashlib.sha256(prev.encode() + b"\n" + form.encode("utf-8")).hexdigest()
        hashes.append(prev)
    return hashes


WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | WORDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=8,
)
BODIES = st.dictionaries(WORDS, VALUES, max_size=4)


def chained(*bodies: dict[str, Any]) -> list[Link]:
    links: list[Link] = []
    for number, body in enumerate(bodies):
        at = f"2026-03-01T09:00:{number:02d}+00:00"
        links.append(link(links[-1] if links else None, at, body))
    return links


def rewritten(links: list[Link]) -> list[Link]:
    """Return what someone makes who changes entries and reckons all hashes anew."""
    made: list[Link] = []
    for one in links:
        made.append(link(made[-1] if made else None, one.recorded_at, one.said()))
    return made


def test_the_worked_example_of_the_byte_form_holds_byte_for_byte() -> None:
    entry = (
        b'{"body":{"n":1,"what":"\xc3\xa9"},'
        b'"recorded_at":"2026-03-01T09:00:00+00:00","seq":1}'
    )  # fmt: skip
    by_hand = hashlib.sha256(b"0" * 64 + b"\n" + entry).hexdigest()
    made = link(None, "2026-03-01T09:00:00+00:00", {"what": "é", "n": 1})
    assert made.hash == by_hand
    assert by_hand == "1e261432ece096082c7dacbf3eae082a992bee58b2abcefd1a076845d511d49e"
    assert by_hand in str(chain.__doc__)


@given(st.lists(BODIES, min_size=1, max_size=4))
def test_a_short_script_of_somebody_else_reckons_the_same_hashes(
    bodies: list[dict[str, Any]],
) -> None:
    links = chained(*bodies)
    lines = [
        json.dumps({"body": body, "recorded_at": one.recorded_at, "seq": one.seq})
        for body, one in zip(bodies, links, strict=True)
    ]
    assert outside_hashes(lines) == [one.hash for one in links]


def test_composed_and_decomposed_letters_give_one_form() -> None:
    assert byte_form({"é": "e\u0301"}) == byte_form({"e\u0301": "é"}) == '{"é":"é"}'


@pytest.mark.parametrize(
    ("value", "form"),
    [
        ({"b": 1, "a": 2, "B": 3}, '{"B":3,"a":2,"b":1}'),
        ([True, False, None], "[true,false,null]"),
        ('quote " slash \\ line \n tab \t', r'"quote \" slash \\ line \n tab \t"'),
        ("\x01\x1f", '"\\u0001\\u001f"'),
        ("\u2028 / \x7f", '"\u2028 / \x7f"'),
        (12345678901234567890, "12345678901234567890"),
        ((), "[]"),
    ],
)
def test_the_byte_form_is_as_its_description_says(value: object, form: str) -> None:
    assert byte_form(value) == form


@pytest.mark.parametrize(
    "value", [1.0, float("nan"), {"a": 1e16}, {1: "a"}, b"x", "\udc80", {1, 2}]
)
def test_what_has_no_byte_form_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match=r"."):
        byte_form(value)


@given(st.lists(BODIES, max_size=6))
def test_a_chain_as_it_was_recorded_holds(bodies: list[dict[str, Any]]) -> None:
    assert first_break(chained(*bodies)) is None


FIVE = chained(*({"what": f"act {number}"} for number in range(1, 6)))


@pytest.mark.parametrize("at", range(5))
@pytest.mark.parametrize(
    "change",
    [
        {"body": '{"what":"act 0"}'},
        {"recorded_at": "2020-01-01T00:00:00+00:00"},
        {"hash": "f" * 64},
        {"prev": "e" * 64},
        {"seq": 9},
    ],
    ids=lambda change: next(iter(change)),
)
def test_an_edited_entry_is_named(at: int, change: dict[str, Any]) -> None:
    links = list(FIVE)
    links[at] = replace(links[at], **change)
    found = first_break(links)
    assert found is not None
    assert found.seq == at + 1
    assert f"entry {at + 1}" in found.wrong


@pytest.mark.parametrize("at", range(4))
def test_a_removed_entry_is_named(at: int) -> None:
    found = first_break(FIVE[:at] + FIVE[at + 1 :])
    assert found is not None
    assert found.wrong == f"entry {at + 1} is missing; entry {at + 2} stands in its place"


@pytest.mark.parametrize("at", range(4))
def test_swapped_entries_are_found_even_with_new_numbers(at: int) -> None:
    links = list(FIVE)
    links[at], links[at + 1] = (
        replace(links[at + 1], seq=at + 1),
        replace(links[at], seq=at + 2),
    )
    found = first_break(links)
    assert found is not None
    assert found.seq == at + 1


@pytest.mark.parametrize("at", range(5))
def test_an_inserted_entry_is_found_where_the_next_one_does_not_follow(at: int) -> None:
    before = FIVE[at - 1] if at else None
    false = link(before, "2026-03-01T09:00:00+00:00", {"what": "never done"})
    links = FIVE[:at] + [false] + [replace(one, seq=one.seq + 1) for one in FIVE[at:]]
    found = first_break(links)
    assert found is not None
    assert found.seq == at + 2


def test_a_cut_end_and_a_rewritten_chain_show_only_against_a_head_kept_elsewhere() -> None:
    head = head_of(FIVE)
    cut = FIVE[:4]
    anew = rewritten([replace(FIVE[0], body='{"what":"another"}'), *FIVE[1:]])
    for forged in (cut, anew):
        assert first_break(forged) is None
        assert not agrees(forged, head)
    assert agrees(FIVE, head)


def test_a_head_vouches_for_what_came_before_it_and_for_nothing_after() -> None:
    early = head_of(FIVE[:3])
    assert agrees(FIVE, early)
    assert agrees(rewritten([*FIVE[:4], replace(FIVE[4], body='{"what":"another"}')]), early)


def test_an_empty_chain_has_a_head_of_zeros() -> None:
    assert head_of([]) == Head(BEFORE_THE_FIRST, 0)
    assert agrees(FIVE, head_of([]))


def test_a_head_is_read_as_it_is_printed_and_from_its_first_half() -> None:
    head = head_of(FIVE)
    assert Head.read(str(head)) == head
    assert agrees(FIVE, Head.read(f" {head.hash[:32].upper()}:5 "))


@pytest.mark.parametrize(
    "text", ["", "abc:3", "z" * 64 + ":3", "a" * 64, "a" * 31 + ":3", "a" * 65 + ":1"]
)
def test_what_is_no_head_is_refused_with_the_form_that_is(text: str) -> None:
    with pytest.raises(NotUnderstoodError, match="HASH:COUNT"):
        Head.read(text)
