"""The investigator's own words in a section: they survive new data, and say when they went stale.

An edit is an `EditedText` whose paragraph is "report " and the paragraph's name, such as
"report survey: when". A name that no draft has, "report survey: added 1", adds a paragraph at the
end of that section; it speaks as a fact unless it begins with "Inference:" or "Opinion:".
"""

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbench.records import EditedText, Source, read_sources
from workbench.report.blocks import Block, Paragraph, Section, Voice
from workbench.report.draft import Draft
from workbench.report.text import Look, plain, read_text, values_of

PREFIX = "report "
_VOICES = {"Inference:": Voice.INFERENCE, "Opinion:": Voice.OPINION}
CHANGED = "the records behind this paragraph have changed since"


def digest_of(draft_words: str, words: str, look: Look) -> str:
    """Return the digest of what an edit was made on: the draft, and its own numbers then."""
    values = values_of(read_text(words, look))
    said = json.dumps([draft_words, sorted(values.items())], ensure_ascii=False)
    return hashlib.sha256(said.encode()).hexdigest()


def with_edits(draft: Draft, sections: Sequence[Section]) -> tuple[Section, ...]:
    """Return the sections with the investigator's words in the place of the drafts."""
    edits = {
        one.paragraph.removeprefix(PREFIX): one
        for one in draft.dossier.all(EditedText)
        if one.paragraph.startswith(PREFIX)
    }
    if not edits:
        return tuple(sections)
    return tuple(_edited(draft, section, edits) for section in sections)


def _edited(draft: Draft, section: Section, edits: Mapping[str, EditedText]) -> Section:
    drafted = {b.name for b in section.blocks if isinstance(b, Paragraph) and b.name}
    blocks: list[Block] = [
        _replaced(draft, block, edits[block.name])
        if isinstance(block, Paragraph) and block.name in edits
        else block
        for block in section.blocks
    ]
    blocks += [
        _added(draft, name, edit)
        for name, edit in edits.items()
        if name.partition(":")[0] == section.key and name not in drafted
    ]
    return replace(section, blocks=tuple(blocks))


def _replaced(draft: Draft, block: Paragraph, edit: EditedText) -> Paragraph:
    now = digest_of(plain(block.text), edit.text, draft.values)
    return replace(
        block,
        text=read_text(edit.text, draft.values),
        sources=basis_of(edit) or block.sources,
        stale=_staleness(edit, now, plain(block.text)),
        edited_by=edit.by,
    )


def _added(draft: Draft, name: str, edit: EditedText) -> Paragraph:
    voice, words = Voice.FACT, edit.text.strip()
    for prefix, spoken in _VOICES.items():
        if words.startswith(prefix):
            voice, words = spoken, words.removeprefix(prefix).strip()
    now = digest_of("", edit.text, draft.values)
    return Paragraph(
        read_text(words, draft.values),
        voice,
        basis_of(edit),
        _staleness(edit, now, ""),
        name,
        edit.by,
    )


def _staleness(edit: EditedText, now: str, drafted: str) -> str:
    if not edit.digest or edit.digest == now:
        return ""
    instead = f"; drafted anew it would read: “{drafted}”" if drafted else ""
    return f"{CHANGED} {edit.by or 'it'} wrote it{instead}"


def basis_of(edit: EditedText) -> tuple[Source, ...]:
    """Return the records that an edit names as its basis."""
    return read_sources(edit.basis)


def new_edit(draft: Draft, block: Paragraph, words: str, by: str) -> EditedText:
    """Return the record of an edit made now, on the draft as it stands."""
    return EditedText(
        paragraph=f"{PREFIX}{block.name}",
        text=words,
        basis="; ".join(str(source) for source in block.sources),
        digest=digest_of(plain(block.text), words, draft.values),
        by=by,
    )
