"""Words of a list: read whatever their case and spaces, told where none is near enough."""

import re
from collections.abc import Iterable
from difflib import get_close_matches
from functools import cache

from workbench.exchange.field_book.cells import clean
from workbench.exchange.field_book.columns import words_of
from workbench.exchange.field_book.units import tidy_unit
from workbench.records import FieldInfo, Record
from workbench.records.codes import (
    FEATURE_NAMES,
    LAB_QUANTITIES,
    LIMIT_ONLY_QUANTITIES,
    MEASUREMENT_QUANTITIES,
    OPEN_PREFIXES,
    UNITS,
)
from workbench.records.written import NotUnderstoodError
from workbench.trade.units import is_unit

MOST_WORDS_SHOWN = 12
QUANTITIES = (*MEASUREMENT_QUANTITIES, *LAB_QUANTITIES, *LIMIT_ONLY_QUANTITIES)


def near(text: str, words: Iterable[str], cutoff: float = 0.6) -> str:
    """Return the word of `words` that `text` most likely meant, or an empty text."""
    folded = {_folded(word): word for word in reversed(tuple(words))}
    found = get_close_matches(_folded(text), folded, n=1, cutoff=cutoff)
    return folded[found[0]] if found else ""


def did_you_mean(text: str, words: Iterable[str], otherwise: str, cutoff: float = 0.6) -> str:
    """Return what would be right for a word that is in no list."""
    if meant := near(text, words, cutoff):
        return f"write {meant}, if that is meant"
    return otherwise


def read_word(kind: type[Record], info: FieldInfo, text: str) -> str:
    """Return the word of the column's list that `text` says, whatever its case and spaces.

    Raises:
        NotUnderstoodError: The column takes words of a list only, and this is none of them.
    """
    bare = clean(text)
    words = words_of(kind, info)
    if words is UNITS and is_unit(tidy_unit(bare)):
        return tidy_unit(bare)
    if found := _by_folded(words).get(_folded(bare)):
        return found
    if info.name == "material" and " / " in bare:
        right = "write the material of the top one, and name the layers under product"
        raise NotUnderstoodError(f"“{bare}” names several materials", right)
    if info.name == "quantity" and (found := _read_quantity(bare)):
        return found
    if info.column.open_words:
        return bare
    raise NotUnderstoodError(f"“{bare}” is no word of the list", _right(bare, words))


def tidy_answer(text: str) -> str:
    """Return yes, no and unknown in small letters, any other text as it is."""
    return text.casefold() if text.casefold() in {"yes", "no", "unknown"} else text


def tidy_name(name: str) -> str:
    """Return the name of a feature that has a meaning as it is spelt, any other as it is."""
    return _by_folded(FEATURE_NAMES).get(_folded(name), name)


@cache
def _by_folded(words: tuple[str, ...]) -> dict[str, str]:
    return {_folded(word): word for word in words if not word.endswith(":")}


def _folded(word: str) -> str:
    """Return a word without case, spaces, hyphens and underscores; a sign such as < stays."""
    return re.sub(r"[\s_-]", "", word).casefold()


def is_quantity(text: str) -> bool:
    """Return whether a quantity is one of the lists, or has the beginning of one that is open."""
    return bool(_read_quantity(text))


def _read_quantity(text: str) -> str:
    """Return a quantity of another sheet's list, or one with an open end such as `eds:Zn`."""
    head, colon, end = (part.strip() for part in text.partition(":"))
    if colon and end and f"{head.casefold()}:" in OPEN_PREFIXES:
        return f"{head.casefold()}:{end}"
    return _by_folded(QUANTITIES).get(_folded(text), "")


def _right(text: str, words: tuple[str, ...]) -> str:
    if len(words) <= MOST_WORDS_SHOWN:
        return f"write one of: {', '.join(words)}"
    return did_you_mean(text, words, "take a word from the drop-down of the field book")
