"""What a sample stands for: failing, sound, control, reference, blank."""

from workbench.records import Dossier, Sample
from workbench.records.codes import Condition, Purpose

_CONDITIONS = {
    Purpose.FAILING: Condition.FAILING,
    Purpose.NON_FAILING: Condition.NON_FAILING,
    Purpose.CONTROL: Condition.CONTROL,
}


def condition_of_sample(dossier: Dossier, ref: str) -> Condition:
    """Return what a sample stands for: its purpose, else its parent's, else that of its area."""
    sample, seen = dossier.find(Sample, ref), {""}
    while sample and sample.ref not in seen:
        if sample.purpose:
            return _CONDITIONS.get(sample.purpose, Condition.UNKNOWN)
        seen.add(sample.ref)
        if sample.at:
            return dossier.condition_at(sample.at)
        sample = dossier.find(Sample, sample.parent)
    return Condition.UNKNOWN


def family_of(dossier: Dossier, ref: str) -> tuple[str, ...]:
    """Return a sample and the samples it was made from, itself first."""
    line: list[str] = []
    while ref and ref not in line:
        line.append(ref)
        sample = dossier.find(Sample, ref)
        ref = sample.parent if sample else ""
    return tuple(line)
