"""What a report says, as one digest: what was checked is what is issued."""

import hashlib
import json
from collections.abc import Iterable

from workbench.report.blocks import Block, Figure, Heading, Paragraph, Plates, Section, Table
from workbench.report.text import plain

_OF_THE_CASE_FILE = frozenset(("journal", "amendments", "signature"))
"""Sections that change by the act of checking and issuing itself."""


def content_digest(sections: Iterable[Section]) -> str:
    """Return the SHA-256 of the words of a report, its journal and signatures left out."""
    said = [
        [section.title, [_words(block) for block in section.blocks]]
        for section in sections
        if section.key not in _OF_THE_CASE_FILE
    ]
    return hashlib.sha256(json.dumps(said, ensure_ascii=False).encode()).hexdigest()


def _words(block: Block) -> list[str]:
    if isinstance(block, Heading):
        return [block.words]
    if isinstance(block, Paragraph):
        return [block.voice.value, plain(block.text)]
    if isinstance(block, Table):
        cells = [plain(cell) for row in block.rows for cell in row.cells]
        return [block.caption, *(column.heading for column in block.columns), *cells]
    if isinstance(block, Figure):
        return [block.caption, *map(str, block.sources)]
    if isinstance(block, Plates):
        return [part for plate in block.plates for part in (plate.file, plate.caption)]
    return []
