"""What a check of a case found, what it could not look at, and what no such check can find."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that is not as it was recorded.

    Attributes:
        where: The entry, record or file: "journal entry 12", "pull-off P-12", "photos/p01.jpg".
        wrong: What is wrong, with what is there and what was recorded.
    """

    where: str
    wrong: str

    def __str__(self) -> str:
        """Return the finding as one sentence."""
        return f"{self.where}: {self.wrong}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Verification:
    """The outcome of one check of a whole case.

    Attributes:
        findings: What is not as it was recorded; empty where all of it is.
        remarks: What is worth knowing and is no finding.
        checked: What was compared, in words.
        limits: What this check cannot find.
        journal: Head of the journal, `HASH:COUNT`.
        ledger: Head of the custody ledger, `HASH:COUNT`.
        checked_at: When, by the clock of this computer.
    """

    findings: tuple[Finding, ...]
    remarks: tuple[str, ...]
    checked: tuple[str, ...]
    limits: tuple[str, ...]
    journal: str
    ledger: str
    checked_at: str

    @property
    def unchanged(self) -> bool:
        """Whether nothing was found."""
        return not self.findings
