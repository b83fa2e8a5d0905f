"""The matrix: candidates against observations, narrowed to what a person asks for."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from workbench.reasoning.knowledge import Cause, Knowledge
from workbench.reasoning.results import Bearing, Candidate, Cell, Finding, Matrix, Reasoning, Row

_STAGES = ("background", "survey", "field", "lab")


@dataclass(frozen=True, slots=True, kw_only=True)
class Filter:
    """What a matrix is narrowed to; an empty word narrows nothing.

    Attributes:
        substrate: A substrate the causes act on.
        chemistry: A chemistry that is prone to them.
        form: A form of failure they show.
        plane: A class of planes they part: SUB_COH, SUB_IF, COAT_COH, INTERCOAT, GLUE, NONE.
        most_causes: How many candidates at most, those that stand first.
        most_rows: How many observations at most, those that tell most.
        with_excluded: Whether excluded candidates are shown.
        with_unread: Whether observations are shown that nobody has read.
    """

    substrate: str = ""
    chemistry: str = ""
    form: str = ""
    plane: str = ""
    most_causes: int = 20
    most_rows: int = 60
    with_excluded: bool = True
    with_unread: bool = True


def matrix_of(reasoning: Reasoning, knowledge: Knowledge, wanted: Filter | None = None) -> Matrix:
    """Return the matrix of a reasoning, sorted by what stands, narrowed to what is wanted."""
    asked = wanted or Filter()
    chosen = [
        one
        for one in reasoning.candidates
        if _wanted(knowledge.cause.get(one.cause), asked)
        and (asked.with_excluded or not one.excluded_by)
    ][: asked.most_causes]
    rows = _rows(reasoning, knowledge, chosen, asked)
    return Matrix(candidates=tuple(chosen), rows=tuple(rows))


def _wanted(cause: Cause | None, asked: Filter) -> bool:
    if cause is None:
        return False
    return (
        _has(asked.substrate, cause.substrates)
        and _has(asked.chemistry, cause.chemistries)
        and _has(asked.form, cause.forms)
        and _has(asked.plane, [plane.kind.value for plane in cause.planes])
    )


def _has(word: str, words: Iterable[str]) -> bool:
    held = set(words)
    return not word or word in held or "any" in held


def _rows(
    reasoning: Reasoning, knowledge: Knowledge, chosen: Sequence[Candidate], asked: Filter
) -> list[Row]:
    held = []
    for observation in knowledge.observations:
        finding = reasoning.finding(observation.key)
        if not observation.in_matrix or (not finding.known and not asked.with_unread):
            continue
        cells = tuple(_cell(one, finding) for one in chosen)
        if any(c.bearing is not Bearing.SILENT for c in cells):
            held.append(
                Row(
                    key=observation.key, question=observation.question,
                    label=observation.says.get(finding.value) or observation.question,
                    stage=observation.stage.value, group=observation.group, finding=finding,
                    cells=cells,
                )
            )  # fmt: skip
    telling = sorted(held, key=_telling, reverse=True)[: asked.most_rows]
    kept = {row.key for row in telling}
    return sorted(
        (row for row in held if row.key in kept),
        key=lambda row: (_STAGES.index(row.stage), not row.finding.known),
    )


def _telling(row: Row) -> tuple[bool, float]:
    unread = sum(0.1 for c in row.cells if c.bearing is Bearing.NOT_READ)
    return (row.finding.known, sum(abs(c.points) for c in row.cells) + unread)


def _cell(one: Candidate, finding: Finding) -> Cell:
    for held in (one.supporting, one.opposing, one.unread):
        for c in held:
            if c.key == finding.key:
                return c
    return Cell(cause=one.cause, key=finding.key, bearing=Bearing.SILENT, finding=finding)
