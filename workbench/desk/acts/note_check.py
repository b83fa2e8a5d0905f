"""Writing down that a case was checked, and with what outcome."""

from dataclasses import dataclass

from workbench.custody.verification import Verification
from workbench.desk.acts.act import Plan
from workbench.records import Dossier


@dataclass(frozen=True, slots=True)
class NoteCheck:
    """The outcome of a check, dated and kept with the heads that it saw."""

    found: Verification
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:  # noqa: ARG002 - all acts are planned alike
        """Return what the act does: a line of the journal, and nothing else."""
        outcome = (
            "unchanged since it was recorded"
            if self.found.unchanged
            else f"not as it was recorded: {'; '.join(str(one) for one in self.found.findings)}"
        )
        heads = f"journal {self.found.journal}, custody {self.found.ledger}"
        return Plan(what=f"checked the case at {self.found.checked_at}: {outcome} ({heads})")
