"""Opinions: drafted from the reasoning, checked for basis, refs, grade and words."""

from workbench.reasoning.drafting import draft_of
from workbench.reasoning.results import Reasoning
from workbench.reasoning.wording import certainty_flags, party_flags
from workbench.records import Dossier, Opinion, Problem, Source, read_sources

_PARTS = ("opinion", "against", "limits", "range_of_opinion")


def draft_opinions(reasoning: Reasoning, dossier: Dossier, by: str = "") -> tuple[Opinion, ...]:
    """Return one draft for each question put that has no opinion yet.

    The draft says what the case holds on it; the investigator makes it an opinion and signs it.
    """
    held = dossier.all(Opinion)
    return tuple(
        draft_of(reasoning, dossier, question, f"O-{number:02d}", by)
        for number, question in enumerate(dossier.questions, start=1)
        if not any(one.is_on(number, question) for one in held)
    )


def opinion_problems(
    opinion: Opinion, reasoning: Reasoning, dossier: Dossier
) -> tuple[Problem, ...]:
    """Return what a judge would ask about an opinion: basis, refs, grade, words."""
    return (
        *_of_basis(opinion, dossier),
        *_of_grade(opinion, reasoning),
        *_of_words(opinion, dossier),
    )


def basis_of(text: str) -> tuple[Source, ...]:
    """Return the records that "pull_off P-12; rating K-3" names."""
    return read_sources(text)


def _of_basis(opinion: Opinion, dossier: Dossier) -> list[Problem]:
    place = f"opinion {opinion.ref}"
    named = basis_of(opinion.basis)
    if not named:
        return [Problem(place, "basis", "no record is named", "the records it rests on")]
    return [
        Problem(place, "basis", f"“{source}” is no record of the case", "a record's noun and label")
        for source in named
        if dossier.resolve(source) is None
    ]


def _of_grade(opinion: Opinion, reasoning: Reasoning) -> list[Problem]:
    lead = [one for one in reasoning.candidates if one.cause in reasoning.leaders]
    proposed = max((one.proposed.firmness for one in lead), default=0)
    if opinion.grade is None:
        return [
            Problem(f"opinion {opinion.ref}", "grade", "no grade is given", "one of the grades")
        ]
    if opinion.grade.firmness <= proposed or opinion.limits.strip():
        return []
    wrong = f"“{opinion.grade}” is firmer than the rules give"
    return [Problem(f"opinion {opinion.ref}", "grade", wrong, "a written reason under limits")]


def _of_words(opinion: Opinion, dossier: Dossier) -> list[Problem]:
    place = f"opinion {opinion.ref}"
    return [
        Problem(place, part, f"“{flag.words}”", flag.why, hinders=False)
        for part in _PARTS
        for text in [getattr(opinion, part)]
        for flag in (*certainty_flags(text), *party_flags(text, dossier))
    ]
