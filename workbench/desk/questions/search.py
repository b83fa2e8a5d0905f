"""Finding anything: records by what they are called and by what they say."""

from collections.abc import Iterator
from dataclasses import dataclass

from workbench.records import KINDS, Dossier, Record, fields_of

MOST_FOUND = 60


@dataclass(frozen=True, slots=True)
class Found:
    """A record that says what was searched for.

    Attributes:
        record: The record.
        said: The field that says it, as "note: lifted with the cutter"; empty for its label.
    """

    record: Record
    said: str = ""


class SearchIndex:
    """What the records of a dossier say, folded for searching when it is first asked for."""

    def __init__(self, dossier: Dossier) -> None:
        """Look at nothing yet."""
        self._dossier = dossier
        self._texts: dict[str, str] = {}

    def matches(self, record: Record, words: str, shown: str = "") -> bool:
        """Return whether a record says all of `words`, in whatever field and case.

        Args:
            record: The record.
            words: What is looked for.
            shown: What is said of it besides; a word looked for begins one of its words.
        """
        said, tokens = self._text(record), shown.casefold().split()
        return all(
            word in said or any(token.startswith(word) for token in tokens)
            for word in words.casefold().split()
        )

    def search(self, words: str, most: int = MOST_FOUND) -> tuple[Found, ...]:
        """Return records that say `words`: those called so first, then others that say it."""
        wanted = words.casefold().split()
        if not wanted:
            return ()
        everything = [record for kind in KINDS for record in self._dossier.all(kind)]
        called = [one for one in everything if _says(_name(one), wanted)]
        called.sort(key=lambda one: _distance(one, words.casefold().strip()))
        found = [Found(one) for one in called[:most]]
        named = {one.record.id for one in found}
        for record in everything:
            if len(found) >= most:
                break
            if record.id not in named and _says(self._text(record), wanted):
                found.append(Found(record, _where(record, wanted)))
        return tuple(found)

    def _text(self, record: Record) -> str:
        if record.id not in self._texts:
            said = [record.label, *(text for _, text in _said(record))]
            whole = "\n".join(said).casefold()
            self._texts[record.id] = f"{whole}\n{whole.replace('_', ' ')}"
        return self._texts[record.id]


def _says(text: str, wanted: list[str]) -> bool:
    return all(word in text for word in wanted)


def _name(record: Record) -> str:
    return f"{type(record).title} {record.label}".casefold()


def _distance(record: Record, words: str) -> int:
    """Return how far the name of a record is from `words`: its own name is nearest."""
    label = record.label.casefold()
    if words in {label, _name(record)}:
        return 0
    return 1 if _says(label, words.split()) else 2


def _said(record: Record) -> Iterator[tuple[str, str]]:
    for info in fields_of(type(record)):
        value = getattr(record, info.name)
        if value is not None and value != "":
            yield info.column.heading, str(value)


def _where(record: Record, wanted: list[str]) -> str:
    """Return the field that says most of what is wanted."""
    said = list(_said(record))
    best = max(said, key=lambda pair: sum(word in pair[1].casefold() for word in wanted))
    return f"{best[0]}: {best[1]}"
