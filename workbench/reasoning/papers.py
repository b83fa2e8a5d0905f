"""Papers that may still be had, and what they would settle."""

from collections.abc import Iterable, Mapping

from workbench.reasoning.openings import Open, meanings, parts_of, sum_by_group
from workbench.reasoning.results import NextTest
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import Scales
from workbench.records import Document, Dossier
from workbench.records.codes import DocumentStatus

_TO_BE_HAD = (DocumentStatus.REQUESTED, DocumentStatus.REFUSED)


def papers(
    held: Iterable[Open], left: tuple[Weighed, ...], scales: Scales, dossier: Dossier
) -> list[NextTest]:
    """Return the kinds of papers to ask for, each for the questions it may answer.

    A kind that was received, lost or never existed is not asked for again unless one of that
    kind is still outstanding; the question then goes to the next kind that may answer it.
    """
    asked = _by_kind(dossier)
    by_kind: dict[str, list[Open]] = {}
    for one in held:
        kinds = [kind for kind in one.observation.documents if _worth_asking(asked.get(kind, ()))]
        for kind in kinds[:1]:
            by_kind.setdefault(kind, []).append(one)
    return [
        _paper(kind, sorted(some, key=lambda one: -one.change), left, scales, asked.get(kind, ()))
        for kind, some in by_kind.items()
    ]


def _by_kind(dossier: Dossier) -> Mapping[str, tuple[Document, ...]]:
    held: dict[str, tuple[Document, ...]] = {}
    for one in dossier.all(Document):
        if one.kind:
            held[one.kind] = (*held.get(one.kind, ()), one)
    return held


def _worth_asking(documents: Iterable[Document]) -> bool:
    held = tuple(documents)
    return not held or any(one.status in _TO_BE_HAD for one in held)


def _paper(
    kind: str, some: list[Open], left: tuple[Weighed, ...], scales: Scales,
    documents: Iterable[Document],
) -> NextTest:  # fmt: skip
    told = ", ".join(
        f"{one.ref} {one.status.replace('_', ' ')}"
        for one in documents
        if one.status is not DocumentStatus.RECEIVED
    )
    name = f"Ask for: {kind.replace('_', ' ')}"
    return NextTest(
        test=f"record:{kind}", name=f"{name} ({told})" if told else name,
        setting="desk", cost="low", delay="days", destructive="no",
        keys=tuple(one.observation.key for one in some), parts=parts_of(some),
        change=sum_by_group(some) * scales.settings.paper_share,
        outcomes=tuple(m for one in some[:2] for m in meanings(one, left)),
    )  # fmt: skip
