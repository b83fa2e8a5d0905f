"""A paragraph with its name and the digest of what stands behind it."""

import hashlib
from collections.abc import Iterable, Sequence

from workbench.reasoning.results import Finding, Paragraph, Sentence
from workbench.records import Dossier

_GENERAL = "the whole case"


def paragraph(
    cause: str, heading: str, said: Sequence[Sentence], findings: Iterable[Finding],
    dossier: Dossier,
) -> Paragraph:  # fmt: skip
    """Return a paragraph about a candidate, or about the case where no cause is named."""
    name = f"{cause or _GENERAL}: {heading.lower()}"
    digest = digest_of(findings, dossier)
    return Paragraph(name=name, heading=heading, cause=cause, sentences=tuple(said), digest=digest)


def digest_of(findings: Iterable[Finding], dossier: Dossier) -> str:
    """Return a digest of findings: it changes with their values and with the records behind them.

    It does not change with the units in which the findings are told.
    """
    told = sorted(
        f"{one.key}={one.value}|{'; '.join(f'{s}: {dossier.resolve(s)!r}' for s in one.sources)}"
        for one in findings
    )
    return hashlib.sha256("\n".join(told).encode()).hexdigest()[:16]
