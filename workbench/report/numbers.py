"""Which number every heading, figure, table and plate of a report has, before it is written.

Word numbers them anew by its fields; the numbers here are the text that stands until it does, and
what a cross reference says that comes before its target.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from workbench.report.blocks import Block, Figure, Heading, Plates, Section, Table

_NO_BOOKMARK = re.compile(r"[^A-Za-z0-9]+")
_LONGEST_BOOKMARK = 40


@dataclass(frozen=True, slots=True)
class Target:
    """Something that a cross reference may lead to.

    Attributes:
        label: What the reference says: "Figure 3", "Section 5", "Appendix B".
        number: The number alone, as the heading carries it.
        bookmark: Name of the bookmark round the label; unique, at most 40 characters.
        id: Number of the bookmark.
        words: What stands in the contents or list.
        list: Which list it stands in: contents, Figure, Table or Plate.
        level: Level in the contents; 0 elsewhere.
    """

    label: str
    number: str
    bookmark: str
    id: int
    words: str
    list: str
    level: int = 0


@dataclass(slots=True)
class Numbers:
    """The targets of a report by key, in their order."""

    targets: dict[str, Target] = field(default_factory=dict)
    _taken: set[str] = field(default_factory=set)

    def listed(self, name: str) -> Iterator[Target]:
        """Return the targets of one list, in order."""
        return (target for target in self.targets.values() if target.list == name)

    def label(self, key: str) -> str:
        """Return what a reference to `key` says; a key that leads nowhere says so."""
        target = self.targets.get(key)
        return target.label if target else f"[nothing here is called “{key}”]"

    def add(self, key: str, label: str, number: str, words: str, place: tuple[str, int]) -> None:
        """Take in a target.

        Raises:
            ValueError: The key is taken; a report has each once.
        """
        if key in self.targets:
            raise ValueError(f"two parts of the report are called {key}")
        self.targets[key] = Target(
            label, number, self._bookmark(key), len(self.targets) + 1, words, *place
        )

    def _bookmark(self, key: str) -> str:
        """Return a name of letters and digits alone: some readers mangle all else."""
        words = (word for word in _NO_BOOKMARK.split(key) if word)
        joined = "".join(word[0].upper() + word[1:] for word in words)[: _LONGEST_BOOKMARK - 6]
        base = joined if joined[:1].isalpha() else f"R{joined}"
        name, count = base, 1
        while name.lower() in self._taken:
            count += 1
            name = f"{base}x{count}"
        self._taken.add(name.lower())
        return name


def numbers_of(sections: Iterable[Section]) -> Numbers:
    """Return the numbers of a report; figures, tables and plates run through the whole of it."""
    numbers = Numbers()
    counts = {"Figure": 0, "Table": 0, "Plate": 0}
    main = appendix = 0
    for section in sections:
        if not section.numbered:
            number, label = "", section.title
        elif section.appendix:
            appendix += 1
            number = _letters(appendix)
            label = f"Appendix {number}"
        else:
            main += 1
            number, label = str(main), f"Section {main}"
        numbers.add(f"section {section.key}", label, number, section.title, ("contents", 1))
        below = [0, 0]
        for at, block in enumerate(section.blocks):
            if isinstance(block, Heading):
                key = f"heading {section.key} {block.key or at}"
                number_below = (
                    "" if section.appendix or not number else _below(number, below, block.level)
                )
                label = f"Section {number_below}" if number_below else block.words
                place = ("contents", block.level)
                numbers.add(key, label, number_below, block.words, place)
            else:
                _number_block(numbers, counts, block)
    return numbers


def _below(main: str, below: list[int], level: int) -> str:
    if level == 2:
        below[0], below[1] = below[0] + 1, 0
        return f"{main}.{below[0]}"
    below[1] += 1
    return f"{main}.{below[0]}.{below[1]}"


def _number_block(numbers: Numbers, counts: dict[str, int], block: Block) -> None:
    if isinstance(block, Table) and block.numbered:
        _count(numbers, counts, "Table", (f"table {block.key}", block.caption))
    elif isinstance(block, Figure):
        _count(numbers, counts, "Figure", (f"figure {block.key}", block.caption))
    elif isinstance(block, Plates):
        for plate in block.plates:
            _count(numbers, counts, "Plate", (f"photo {plate.ref}", plate.caption))


def _count(numbers: Numbers, counts: dict[str, int], kind: str, what: tuple[str, str]) -> None:
    counts[kind] += 1
    key, words = what
    numbers.add(key, f"{kind} {counts[kind]}", str(counts[kind]), words, (kind, 0))


def _letters(number: int) -> str:
    """Return A, B … Z, AA, AB … for 1, 2 … 26, 27, 28 …."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
