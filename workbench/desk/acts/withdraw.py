"""Withdrawing a record: it is kept with the reason, and counts no longer."""

from dataclasses import dataclass, replace

from workbench.desk.acts.act import ActRefusedError, Plan, changing, named, refuse_by_hand
from workbench.records import Dossier, Record


@dataclass(frozen=True, slots=True)
class Withdraw:
    """A record that no longer counts, and why."""

    record: Record
    why: str

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does.

        Raises:
            ActRefusedError: No reason is given, or the record is not there or withdrawn already.
        """
        held = dossier.with_id(type(self.record), self.record.id)
        if not self.why.strip():
            raise ActRefusedError(f"{named(self.record)}: say why it is withdrawn")
        if held and held.withdrawn:
            raise ActRefusedError(f"{named(held)} was withdrawn before ({held.withdrawn})")
        gone = replace(held or self.record, withdrawn=self.why.strip())
        refuse_by_hand((gone,), dossier)
        return Plan(what=f"withdrew {named(gone)}", changes=changing((gone,), dossier))
