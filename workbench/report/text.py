"""The text of a report: words with live numbers, cross references and footnotes in them.

A person edits it as plain text: `{pull_off P-12: stress}` is a number that follows its record,
`{see figure plan}` a cross reference, `{note: …}` a footnote, and `{{` a brace.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from workbench.records import Source


@dataclass(frozen=True, slots=True)
class Words:
    """Plain words; `strong` sets them bold."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Value:
    """A number, or another thing that records say.

    Attributes:
        name: What it is: "pull_off P-12: stress"; empty where it has no name of its own.
        shown: How it stands in the report; empty for a name that leads to nothing.
        sources: Where it comes from.
        outside: Who found it, where that is not the practice; supplied facts and outside results
            carry a mark.
    """

    name: str
    shown: str
    sources: tuple[Source, ...] = ()
    outside: str = ""


@dataclass(frozen=True, slots=True)
class See:
    """A cross reference to a figure, table, section, photograph or exhibit by its key."""

    key: str


@dataclass(frozen=True, slots=True)
class Footnote:
    """A note at the foot of the page."""

    text: str


Piece = Words | Value | See | Footnote
Text = tuple[Piece, ...]
Look = Callable[[str], Value]
"""Gives the value of a name; one that leads to nothing has nothing shown."""

_PIECE = re.compile(r"\{\{|\}\}|\{([^{}]*)\}")


def text(*parts: str | Piece | Text) -> Text:
    """Return the parts as one text; a bare string is plain words."""
    pieces: list[Piece] = []
    for part in parts:
        if isinstance(part, str):
            pieces.append(Words(part))
        elif isinstance(part, tuple):
            pieces.extend(part)
        else:
            pieces.append(part)
    return tuple(pieces)


def see_all(keys: Sequence[str]) -> list[str | See]:
    """Return references to all of `keys` as a list in a sentence: "Table 2 and Table 3"."""
    said: list[str | See] = []
    for at, key in enumerate(keys):
        said += [" and " if at == len(keys) - 1 else ", "] if at else []
        said.append(See(key))
    return said


def read_text(written: str, look: Look) -> Text:
    """Return the text that a person wrote, its live numbers looked up anew."""
    pieces: list[Piece] = []
    at = 0
    for found in _PIECE.finditer(written):
        pieces.append(Words(written[at : found.start()]))
        pieces.append(_piece(found, look))
        at = found.end()
    pieces.append(Words(written[at:]))
    return _joined(pieces)


def _piece(found: re.Match[str], look: Look) -> Piece:
    inner = found[1]
    if inner is None:
        return Words(found[0][0])
    if inner.startswith("see "):
        return See(inner.removeprefix("see ").strip())
    if inner.startswith("note:"):
        return Footnote(inner.removeprefix("note:").strip())
    return look(" ".join(inner.split()))


def _joined(pieces: Iterable[Piece]) -> Text:
    joined: list[Piece] = []
    for piece in pieces:
        last = joined[-1] if joined else None
        if isinstance(piece, Words) and isinstance(last, Words) and piece.strong == last.strong:
            joined[-1] = Words(last.text + piece.text, last.strong)
        elif piece != Words(""):
            joined.append(piece)
    return tuple(joined)


def written(whole: Text) -> str:
    """Return a text as a person edits it; `read_text` takes it back."""
    return "".join(_written(piece) for piece in whole)


def _written(piece: Piece) -> str:
    if isinstance(piece, Words):
        return _braced(piece.text)
    if isinstance(piece, Value):
        return f"{{{piece.name}}}" if piece.name else _braced(piece.shown)
    return f"{{see {piece.key}}}" if isinstance(piece, See) else f"{{note: {piece.text}}}"


def _braced(words: str) -> str:
    return words.replace("{", "{{").replace("}", "}}")


def plain(whole: Text | str, see: Callable[[str], str] = str) -> str:
    """Return a text as it is read, without its footnotes; `see` names what a reference leads to."""
    if isinstance(whole, str):
        return whole
    said = []
    for piece in whole:
        if isinstance(piece, Words):
            said.append(piece.text)
        elif isinstance(piece, Value):
            said.append(piece.shown or f"[no such number: {piece.name}]")
        elif isinstance(piece, See):
            said.append(see(piece.key))
    return "".join(said)


def sources_of(whole: Text | str) -> tuple[Source, ...]:
    """Return where the values of a text come from, each source once."""
    if isinstance(whole, str):
        return ()
    found = (s for piece in whole if isinstance(piece, Value) for s in piece.sources)
    return tuple(dict.fromkeys(found))


def values_of(whole: Text) -> dict[str, str]:
    """Return what the named values of a text showed, by name."""
    return {p.name: p.shown for p in whole if isinstance(p, Value) and p.name}
