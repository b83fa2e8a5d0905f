"""Text that is typed and not yet saved: on disk with every key, so that nothing typed is lost."""

import json
from collections.abc import Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import QLineEdit

from workbench.records import Record

Texts = dict[str, str]
_ROWS = "rows"
_PLACE = "place "


class Drafts:
    """The unsaved texts of one case, by form.

    They lie beside the program's settings and not in the case: what was never saved is no part of
    the evidence.
    """

    def __init__(self, folder: Path, case: Path) -> None:
        """Read what is left from the last time.

        Args:
            folder: Where drafts are kept.
            case: The folder of the case.
        """
        name = sha256(str(case.resolve()).encode()).hexdigest()[:24]
        self._file = folder / f"{name}.json"
        held = _read(self._file)
        self._rows: dict[str, list[Texts]] = held.pop(_ROWS, {})
        self._held: dict[str, Texts] = held

    def of(self, kind: type[Record], record: Record | None) -> Texts:
        """Return what was typed for a record, or for a new one, and not saved."""
        return dict(self._held.get(_key(kind, record), {}))

    def keep(self, kind: type[Record], record: Record | None, texts: Mapping[str, str]) -> None:
        """Keep what is typed; nothing typed is nothing kept."""
        key = _key(kind, record)
        if dict(texts) == self._held.get(key, {}):
            return
        if texts:
            self._held[key] = dict(texts)
        else:
            self._held.pop(key, None)
        self._write()

    def rows_of(self, kind: type[Record]) -> list[Texts]:
        """Return the rows that were entered for a type and not saved."""
        return [dict(row) for row in self._rows.get(kind.noun, [])]

    def keep_rows(self, kind: type[Record], rows: Sequence[Mapping[str, str]]) -> None:
        """Keep the rows that are being entered."""
        fresh = [dict(row) for row in rows]
        if fresh != self._rows.get(kind.noun, []):
            self._rows[kind.noun] = fresh
            self._write()

    def words(self, place: str) -> Texts:
        """Return what was typed at a place other than the form of a record, by name."""
        return dict(self._held.get(f"{_PLACE}{place}", {}))

    def keep_words(self, place: str, words: Mapping[str, str]) -> None:
        """Keep what is typed at a place; blanks are not kept."""
        key, said = f"{_PLACE}{place}", {name: text for name, text in words.items() if text}
        if said == self._held.get(key, {}):
            return
        if said:
            self._held[key] = said
        else:
            self._held.pop(key, None)
        self._write()

    def keep_line(self, place: str, line: QLineEdit) -> None:
        """Write into a line what was typed there the last time, and keep what is typed."""
        line.setText(self.words(place).get("", ""))
        line.textChanged.connect(lambda text: self.keep_words(place, {"": text}))

    def _write(self) -> None:
        self._file.parent.mkdir(parents=True, exist_ok=True)
        fresh = self._file.with_suffix(".new")
        fresh.write_text(json.dumps(self._held | {_ROWS: self._rows}, ensure_ascii=False), "utf-8")
        fresh.replace(self._file)


def _key(kind: type[Record], record: Record | None) -> str:
    return f"{kind.noun} {record.id if record else ''}"


def _read(file: Path) -> dict[str, Any]:
    try:
        held = json.loads(file.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return held if isinstance(held, dict) else {}
