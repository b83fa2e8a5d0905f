"""Changing a record."""

from dataclasses import dataclass

from workbench.desk.acts.act import ActRefusedError, Plan, changing, named, refuse_by_hand
from workbench.records import Dossier, Record, fields_of


@dataclass(frozen=True, slots=True)
class Change:
    """A record that takes the place of the one with its identifier."""

    record: Record
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does.

        Raises:
            ActRefusedError: The record cannot be changed so, or is as it was.
        """
        refuse_by_hand((self.record,), dossier)
        changes = changing((self.record,), dossier)
        if not changes:
            raise ActRefusedError(f"{named(self.record)} is as it was; there is nothing to change")
        before = dossier.with_id(type(self.record), self.record.id)
        if before and before.withdrawn and not self.record.withdrawn:
            return Plan(what=f"brought back {named(self.record)}", changes=changes)
        return Plan(what=_told(before or self.record, self.record), changes=changes)


def _told(before: Record, after: Record) -> str:
    differ = [
        info
        for info in fields_of(type(after))
        if getattr(before, info.name) != getattr(after, info.name)
    ]
    if not differ:
        return f"changed {named(before)}"
    names = [info.column.heading for info in differ]
    if len(differ) > 1:
        return f"changed {', '.join(names[:-1])} and {names[-1]} of {named(before)}"
    was, now = (_shown(getattr(one, differ[0].name)) for one in (before, after))
    return f"changed {names[0]} of {named(before)} from {was} to {now}"


def _shown(value: object) -> str:
    return "blank" if value in (None, "") else str(value)
