"""What an investigator decides about causes, as acts: over a name, with a reason, journalled.

A decision about something decided before takes the place of the earlier one, which the journal
keeps.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from workbench.desk.acts import Add, Change
from workbench.records import (
    Answer,
    CausalRole,
    CauseDecision,
    Direction,
    Dossier,
    EditedText,
    ExclusionDecision,
    Grade,
    KnownError,
    ListOf,
    ListStatement,
    Record,
    Source,
    Weight,
    WeightChange,
    When,
)
from workbench.records.codes import YesNo

if TYPE_CHECKING:
    from workbench.reasoning import Candidate, Paragraph

_ORIGIN = "decided at the desk"


class UndecidedError(KnownError):
    """A decision that lacks its reason, or something else that it cannot do without."""


@dataclass(frozen=True, slots=True)
class Decisions:
    """Whose decisions they are.

    Attributes:
        dossier: The case as it stands.
        by: Who decides.
        now: When.
    """

    dossier: Dossier
    by: str
    now: datetime

    def answer(self, observation: str, value: str, reason: str) -> Add | Change:
        """Return the act that answers an observation, or overrides what the records give.

        Raises:
            UndecidedError: There is no reason.
        """
        _say_why(reason, "how you know")
        said = Answer(
            observation=observation, value=value, by=self.by, reason=reason.strip(), origin=_ORIGIN
        )
        return self._put(said, reason)

    def exclusion(
        self, cause: str, observation: str, reason: str, *, confirmed: bool
    ) -> Add | Change:
        """Return the act that accepts, or refuses, that an observation excludes a cause.

        Raises:
            UndecidedError: There is no reason.
        """
        _say_why(reason, "why the observation excludes the cause, or does not")
        said = ExclusionDecision(
            cause=cause, observation=observation, confirmed=YesNo.YES if confirmed else YesNo.NO,
            reason=reason.strip(), by=self.by, signed=self._today, origin=_ORIGIN,
        )  # fmt: skip
        return self._put(said, reason)

    def weight(
        self,
        cause: str,
        observation: str,
        values: Sequence[str],
        bearing: tuple[Direction, Weight],
        reason: str,
    ) -> Add | Change:
        """Return the act that changes, for this case, what a cause predicts of an observation.

        Raises:
            UndecidedError: There is no reason, or no value is named.
        """
        _say_why(reason, "why the case departs from what is usual")
        if not values:
            raise UndecidedError("Name the values of the observation that are meant.")
        said = WeightChange(
            cause=cause, observation=observation, values="; ".join(values), direction=bearing[0],
            weight=bearing[1], reason=reason.strip(), by=self.by, origin=_ORIGIN,
        )  # fmt: skip
        return self._put(said, reason)

    def grade(
        self,
        candidate: "Candidate",
        grade: Grade,
        role: CausalRole | None,
        reason: str,
        place: str = "",
    ) -> Add | Change:
        """Return the act that gives a candidate its grade and part, for the case or one place.

        Raises:
            UndecidedError: The grade is firmer than the rules give, and there is no reason.
        """
        if grade.firmness > candidate.proposed.firmness:
            _say_why(reason, f"why it is firmer than “{candidate.proposed}”; this is printed")
        said = CauseDecision(
            cause=candidate.cause, place=place, grade=grade, role=role, reason=reason.strip(),
            by=self.by, signed=self._today, origin=_ORIGIN,
        )  # fmt: skip
        return self._put(said, reason)

    def statement(self, which: ListOf, words: str, basis: Sequence[Source] = ()) -> Add | Change:
        """Return the act that adds to a list of the reasoning, or says that nothing belongs there.

        Raises:
            UndecidedError: Nothing is said.
        """
        if not words.strip():
            raise UndecidedError("Say what belongs in the list, or that nothing does and why.")
        said = ListStatement(
            list_of=which, statement=words.strip(), basis=_listed(basis), by=self.by,
            origin=_ORIGIN,
        )  # fmt: skip
        return self._put(said, "")

    def text(self, paragraph: "Paragraph", words: str, why: str = "") -> Add | Change:
        """Return the act that puts the investigator's words in the place of a paragraph.

        The words keep the digest of the findings behind the paragraph, so that a later change of
        the records is told.

        Raises:
            UndecidedError: Nothing is written.
        """
        if not words.strip():
            raise UndecidedError("A paragraph cannot be empty; withdraw the edit instead.")
        sources = dict.fromkeys(s for one in paragraph.sentences for s in one.sources)
        said = EditedText(
            paragraph=paragraph.name, text=words.strip(), basis=_listed(tuple(sources)),
            digest=paragraph.digest, by=self.by, origin=_ORIGIN,
        )  # fmt: skip
        return self._put(said, why)

    @property
    def _today(self) -> When:
        return When(self.now.astimezone(self.dossier.zone).date().isoformat())

    def _put(self, said: Record, why: str) -> Add | Change:
        held = self.dossier.find(type(said), said.label)
        if held is None:
            return Add((said,), why.strip())
        return Change(replace(said, id=held.id, origin=held.origin), why.strip())


def _say_why(reason: str, what: str) -> None:
    if not reason.strip():
        raise UndecidedError(f"Say {what}.")


def _listed(sources: Sequence[Source]) -> str:
    return "; ".join(map(str, sources))
