"""Records of any type with any content that their fields allow, for properties and full cases."""

from enum import Enum
from typing import Any

from hypothesis import strategies as st

from workbench.records import KINDS, FieldInfo, Record, fields_of

WRITTEN = {
    "Quantity": ["50.0", "350 psi", "-3 degC", "2.4e3 N", "8 mil"],
    "Outcome": ["12.1 pH", "none", "3"],
    "Readings": ["690; 700; 655", "mean 690; min 560; max 900; n 40"],
    "When": ["2019", "2019-02", "2019-02-08", "2019-02-08 14:30", "2019-02-08 14:30+01:00"],
    "Plane": ["A", "A/B", "B", "-/Y", "Y", "Y/Z"],
    "Breaks": ["A/B 60; B 30; Y 10", "B/C 95; ? 5"],
    "Face": ["C/D", "C/D@D", "outer", "section C"],
    "Outline": ["0 0; 4 0; 4 3; 0 3"],
    "Points": ["0.31 0.42; 0.55 0.6"],
    "Features": ["drain; curing=wax; joint=no"],
    "Refs": ["bay-1; bay-2"],
}
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
KIND = st.sampled_from(KINDS)


def values(info: FieldInfo, words: st.SearchStrategy[str] = WORDS) -> st.SearchStrategy[Any]:
    """Return what a field of the record type may hold, its words out of `words`."""
    if issubclass(info.type, Enum):
        said: st.SearchStrategy[Any] = st.sampled_from(list(info.type))
    elif info.type is str:
        return words
    elif info.type is int:
        said = st.integers(-(2**63) + 1, 2**63 - 1)
    else:
        said = st.sampled_from([info.type.read(text) for text in WRITTEN[info.type.__name__]])
    return said if info.required else st.none() | said


def records(kind: type[Record], words: st.SearchStrategy[str] = WORDS) -> st.SearchStrategy[Record]:
    """Return records of one type."""
    fields = {info.name: values(info, words) for info in fields_of(kind)}
    return st.builds(kind, origin=words, **fields)


def full(kind: type[Record], number: int) -> Record:
    """Return a record of a type with every field filled, its own by `number`."""
    return kind(**{info.name: _filled(info, number) for info in fields_of(kind)})


def _filled(info: FieldInfo, number: int) -> Any:
    if issubclass(info.type, Enum):
        words = list(info.type)
        return words[number % len(words)]
    if info.type is str:
        return f"{info.name} {number}"
    if info.type is int:
        return number
    texts = WRITTEN[info.type.__name__]
    return info.type.read(texts[number % len(texts)])
