"""Adding records."""

from dataclasses import dataclass

from workbench.desk.acts.act import ActRefusedError, Plan, adding, counted, refuse_by_hand
from workbench.records import Dossier, Record


@dataclass(frozen=True, slots=True)
class Add:
    """Records that are new to the case."""

    records: tuple[Record, ...]
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does.

        Raises:
            ActRefusedError: There are no records, or one cannot be added.
        """
        if not self.records:
            raise ActRefusedError("there is nothing to add")
        refuse_by_hand(self.records, dossier)
        return Plan(
            what=f"added {counted(self.records)}",
            changes=adding(self.records, dossier),
            final=any(type(one).ledger for one in self.records),
        )
