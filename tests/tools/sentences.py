"""Which sentences of the reasoning rest on no record of the case."""

from workbench.reasoning import Reasoning
from workbench.reasoning.results import Sentence
from workbench.records import Dossier


def unsupported(reasoning: Reasoning, dossier: Dossier) -> tuple[Sentence, ...]:
    """Return the sentences that carry no record, or one that the case does not have."""
    return tuple(
        said
        for held in (*reasoning.paragraphs, *reasoning.rejections)
        for said in held.sentences
        if not (said.sources and all(dossier.resolve(source) for source in said.sources))
    )
