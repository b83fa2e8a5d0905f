"""The reasoning in words: every sentence with the records it rests on, neutral about persons."""

from collections.abc import Mapping
from dataclasses import replace

from workbench.reasoning.prose.paragraph import paragraph
from workbench.reasoning.prose.rejected import rejected
from workbench.reasoning.prose.retained import retained
from workbench.reasoning.prose.telling import Telling, sources_of, upper
from workbench.reasoning.results import Paragraph, Reasoning, Sentence, Ungraded
from workbench.reasoning.weighing import Scales
from workbench.records import Dossier, EditedText, Grade, read_sources


def paragraphs(reasoning: Reasoning, scales: Scales, dossier: Dossier) -> tuple[Paragraph, ...]:
    """Return the reasoning in words: the case, then each candidate, retained ones first.

    Candidates of which nothing telling was read have no paragraph; there is nothing to say.
    """
    told: Telling = Telling(reasoning, scales, dossier)
    made = [_case(told)]
    for one in reasoning.candidates:
        cause = scales.knowledge.cause.get(one.cause)
        if cause is None or isinstance(one.grade, Ungraded):
            continue
        kept = one.grade.firmness >= Grade.POSSIBLE.firmness
        made += retained(one, cause, told) if kept else [rejected(one, cause, told)]
    edits = {one.paragraph: one for one in dossier.all(EditedText)}
    return tuple(_edited(one, edits) for one in made if one.sentences)


def _case(told: Telling) -> Paragraph:
    reasoning = told.reasoning
    lead = [c for c in reasoning.candidates if c.cause in reasoning.leaders]
    sources = sources_of(cell for one in lead for cell in (one.direct or one.supporting))
    sentences = [Sentence(text=reasoning.verdict, sources=sources or reasoning.basis)]
    sentences += [
        Sentence(text=f"{upper(alias.words)}.", sources=alias.sources)
        for alias in reasoning.aliases
        if alias.sources
    ]
    findings = [c.finding for one in lead for c in one.direct]
    return paragraph("", "The cause", sentences, findings, told.dossier)


def _edited(one: Paragraph, edits: Mapping[str, EditedText]) -> Paragraph:
    edit = edits.get(one.name)
    if edit is None:
        return one
    basis = read_sources(edit.basis)
    kept = tuple(dict.fromkeys(source for said in one.sentences for source in said.sources))
    sentence = Sentence(text=edit.text, sources=basis or (edit.source, *kept))
    return replace(
        one, sentences=(sentence,), edited_by=edit.by,
        stale=bool(edit.digest) and edit.digest != one.digest,
    )  # fmt: skip
