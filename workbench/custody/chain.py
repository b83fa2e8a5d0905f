r"""Entries chained by their hashes: a changed, removed, added or moved one is found.

The byte form, which any JSON writer can make again (RFC 8259, UTF-8):

- an entry is the object {"body": …, "recorded_at": …, "seq": …}; `seq` counts from 1;
- names in the order of their code points; no space outside strings; `,` and `:` between;
- strings in Unicode normalization form C, with only `"`, `\` and the control characters
  U+0000 to U+001F escaped, as `\"`, `\\`, `\b \f \n \r \t`, else `\u00XX` in small hex;
- whole numbers in decimal digits; true, false, null; no other numbers.

The hash of an entry is the SHA-256, in hex, of: the hash of the entry before it (64 hex digits,
64 zeros before the first), one line feed (0A), the byte form. So the first entry with the body
{"what": "é", "n": 1} recorded at 2026-03-01T09:00:00+00:00 is hashed over

    0000000000000000000000000000000000000000000000000000000000000000
    {"body":{"n":1,"what":"é"},"recorded_at":"2026-03-01T09:00:00+00:00","seq":1}

(é as the bytes C3 A9, nothing after the last brace), which gives
1e261432ece096082c7dacbf3eae082a992bee58b2abcefd1a076845d511d49e.

What a chain cannot show by itself: that its end was cut off, or that all of it was written anew.
Both show against a `Head` that was printed or sent elsewhere before.
"""

import hashlib
import json
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Self

from workbench.records import NotUnderstoodError

BEFORE_THE_FIRST = "0" * 64
_SHORTEST_PREFIX = 32


@dataclass(frozen=True, slots=True)
class Link:
    """One entry of a chain.

    Attributes:
        seq: Its number, from 1.
        recorded_at: When this computer recorded it: its own clock, no proof.
        body: What it says, in its byte form.
        prev: Hash of the entry before.
        hash: Its own hash.
    """

    seq: int
    recorded_at: str
    body: str
    prev: str
    hash: str

    def said(self) -> dict[str, Any]:
        """Return what the entry says, read from its byte form."""
        said: dict[str, Any] = json.loads(self.body)
        return said


@dataclass(frozen=True, slots=True)
class Head:
    """The last entry of a chain: printed elsewhere, it vouches for all entries up to it.

    Attributes:
        hash: Hash of the last entry, or its first 32 hex digits or more.
        count: How many entries there are.
    """

    hash: str
    count: int

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the head that `HASH:COUNT` says.

        Raises:
            NotUnderstoodError: It is not of that form.
        """
        found = re.fullmatch(rf"([0-9a-f]{{{_SHORTEST_PREFIX},64}}):(\d+)", text.strip().lower())
        if not found:
            right = f"write HASH:COUNT, with at least {_SHORTEST_PREFIX} digits 0-9 a-f of the hash"
            raise NotUnderstoodError(f"“{text}” is not the head of a chain", right)
        return cls(found[1], int(found[2]))

    def __str__(self) -> str:
        """Return HASH:COUNT."""
        return f"{self.hash}:{self.count}"


@dataclass(frozen=True, slots=True)
class Break:
    """The first place where a chain does not hold.

    Attributes:
        seq: Number that the entry there has, or should have.
        wrong: What is wrong with it.
    """

    seq: int
    wrong: str


def byte_form(value: object) -> str:
    """Return the one way in which `value` is written; encoded as UTF-8 it is what is hashed.

    Raises:
        ValueError: It holds a fraction, a name that is no text, or text that UTF-8 cannot hold.
    """
    text = json.dumps(
        _plain(value), sort_keys=True, ensure_ascii=False, allow_nan=False, separators=(",", ":")
    )
    text.encode("utf-8")
    return text


def link(before: Link | None, recorded_at: str, body: Mapping[str, object]) -> Link:
    """Return the entry that follows `before`, or the first one."""
    prev, seq = (before.hash, before.seq + 1) if before else (BEFORE_THE_FIRST, 1)
    text = byte_form(body)
    return Link(seq, recorded_at, text, prev, _hash(prev, seq, recorded_at, text))


def first_break(links: Iterable[Link]) -> Break | None:
    """Return the first place where the chain does not hold, or None where all of it does."""
    prev = BEFORE_THE_FIRST
    for seq, one in enumerate(links, 1):
        if wrong := _wrong_with(one, seq, prev):
            return Break(seq, wrong)
        prev = one.hash
    return None


def head_of(links: Sequence[Link]) -> Head:
    """Return the head of a chain."""
    return Head(links[-1].hash, len(links)) if links else Head(BEFORE_THE_FIRST, 0)


def agrees(links: Sequence[Link], head: Head) -> bool:
    """Return whether the chain, or its beginning, is the one that had this head."""
    if head.count > len(links):
        return False
    return head_of(links[: head.count]).hash.startswith(head.hash)


def _wrong_with(one: Link, seq: int, prev: str) -> str:
    if one.seq != seq:
        return f"entry {seq} is missing; entry {one.seq} stands in its place"
    if one.prev != prev:
        return f"entry {seq} does not follow from the entry before it"
    if one.hash != _hash(prev, seq, one.recorded_at, one.body):
        return f"entry {seq} is not what was recorded: its hash does not fit what it says"
    return ""


def _hash(prev: str, seq: int, recorded_at: str, body: str) -> str:
    when = byte_form(recorded_at)
    entry = f'{prev}\n{{"body":{body},"recorded_at":{when},"seq":{seq}}}'
    return hashlib.sha256(entry.encode("utf-8", "surrogatepass")).hexdigest()


def _plain(value: object) -> object:
    if isinstance(value, str):
        return value if value.isascii() else unicodedata.normalize("NFC", value)
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, Mapping):
        return {_name(key): _plain(one) for key, one in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, bytes):
        return [_plain(one) for one in value]
    raise ValueError(f"{value!r} has no byte form: only text, whole numbers, lists and names do")


def _name(key: object) -> str:
    if not isinstance(key, str):
        raise ValueError(f"{key!r} cannot be a name")  # noqa: TRY004 - one class for all refusals
    return unicodedata.normalize("NFC", key)
