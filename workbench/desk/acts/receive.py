"""Receiving a delivery: every entry, discrepancy and photograph of it in one act."""

from dataclasses import dataclass
from datetime import datetime

from workbench.casefile import FileToKeep
from workbench.desk.acts.act import ActRefusedError, Plan, adding, changing
from workbench.desk.acts.keep import refuse_missing
from workbench.desk.receiving.reception import Reception, arrival, received_records
from workbench.records import Discrepancy, Dossier


@dataclass(frozen=True, slots=True, kw_only=True)
class Receive:
    """A finished receipt. What stands in the custody ledger may not be undone.

    Attributes:
        reception: What was seen.
        receiver: Who receives.
        at: When, aware.
        files: Photographs to be kept, under the names that the reception uses.
        why: The reason given.
    """

    reception: Reception
    receiver: str
    at: datetime
    files: tuple[FileToKeep, ...] = ()
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:
        """Return what the act does.

        Raises:
            ActRefusedError: Something must still be said.
        """
        refuse_missing(self.files)
        try:
            records = received_records(dossier, self.reception, receiver=self.receiver, at=self.at)
        except ValueError as lacking:
            raise ActRefusedError(str(lacking)) from lacking
        came = arrival(dossier, self.reception, at=self.at)
        count = len(self.reception.items)
        what = (
            f"received {self.reception.items[0].sample}"
            if count == 1
            else (f"received {count} samples")
        )
        doubts = [one for one in records if isinstance(one, Discrepancy)]
        if doubts:
            what += f" with {Discrepancy.counted(len(doubts))}"
        return Plan(
            what=what,
            changes=(*adding(records, dossier), *changing(came, dossier)),
            keep=self.files,
            final=True,
        )
