"""Which sample a curve in an original was measured on, by records and by results."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from workbench.analysis.laboratory.standing import family_of
from workbench.desk.laboratory.files import FileCurve, FileCurves, Original, curves_in
from workbench.records import Curve, CurveKind, CurveRole, Dossier, LabResult, Sample, Source
from workbench.records.codes import Purpose

_METHODS = {
    CurveKind.INFRARED: "l-ftir",
    CurveKind.THERMOGRAM: "l-dsc",
    CurveKind.ELEMENTS: "l-sem-eds",
}
_ROLES = {Purpose.REFERENCE: CurveRole.REFERENCE, Purpose.BLANK: CurveRole.BLANK}


@dataclass(frozen=True, slots=True)
class Claim:
    """That a file was measured on something.

    Attributes:
        file: Name of the original.
        part: Title of the block or heading of the column; blank for all of them.
        sample: Ref of the sample.
        face: The face, as written.
        role: What the curve is for.
        ordinate: What stands on the ordinate, where a person said so.
        technique: How it was measured, as written; empty where nobody said.
        sources: The records that say it.
    """

    file: str
    part: str
    sample: str
    face: str
    role: CurveRole
    ordinate: str
    technique: str
    sources: tuple[Source, ...]


def claims(dossier: Dossier, kind: CurveKind) -> Iterator[Claim]:
    """Return what curve records say, then what results say of files no curve record names."""
    named: set[str] = set()
    results = [one for one in dossier.all(LabResult) if one.file]
    for one in dossier.all(Curve):
        if one.kind is not kind:
            continue
        named.add(one.file)
        role = one.role or _role(dossier, one.sample)
        also = tuple(r.source for r in results if r.file == one.file and r.sample == one.sample)
        yield Claim(
            one.file, one.part, one.sample, str(one.face or ""), role, one.ordinate or "",
            one.technique, (one.source, *also),
        )  # fmt: skip
    by_file: dict[str, list[LabResult]] = {}
    for result in results:
        if result.method == _METHODS.get(kind) and result.file not in named:
            by_file.setdefault(result.file, []).append(result)
    for file, some in by_file.items():
        first = some[0]
        yield Claim(
            file, "", first.sample, str(first.face or ""), _role(dossier, first.sample), "", "",
            tuple(one.source for one in some),
        )  # fmt: skip


def _role(dossier: Dossier, ref: str) -> CurveRole:
    for name in family_of(dossier, ref):
        sample = dossier.find(Sample, name)
        if sample and sample.purpose:
            return _ROLES.get(sample.purpose, CurveRole.SPECIMEN)
    return CurveRole.SPECIMEN


@dataclass(slots=True)
class Opened:
    """The originals of a case that were opened, each read once, and what could not be read.

    Attributes:
        original: Gives the file of an original.
        problems: What could not be read, as sentences.
    """

    original: Original
    problems: list[str] = field(default_factory=list)
    _read: dict[str, FileCurves | None] = field(default_factory=dict)

    def curves(self, file: str) -> FileCurves | None:
        """Return the curves of an original, or None where it cannot be read."""
        if file not in self._read:
            self._read[file] = self._opened(file)
        return self._read[file]

    def said_in(self, file: str) -> tuple[str, ...]:
        """Return what an original says before its table."""
        read = self.curves(file)
        return read.preamble if read else ()

    def curves_of(self, claim: Claim, kind: CurveKind) -> tuple[FileCurve, ...]:
        """Return the curves of a kind that a claim speaks of; tell where there is none."""
        read = self.curves(claim.file)
        if read is None:
            return ()
        fits = [one for one in read.curves if one.kind in (kind, CurveKind.OTHER)]
        named = tuple(one for one in fits if not claim.part or one.part == claim.part)
        if not named:
            there = f"; there is {', '.join(one.part for one in fits)}" if fits else ""
            self.problems.append(f"{claim.file}: no curve {claim.part or 'of this kind'}{there}")
        return named

    def _opened(self, file: str) -> FileCurves | None:
        path = self.original(file)
        if path is None:
            self.problems.append(f"{file}: not in the case; take it in, or correct its name")
            return None
        try:
            read = curves_in(path, file)
        except OSError as wrong:
            self.problems.append(f"{file}: {wrong.strerror or wrong}")
            return None
        self.problems += [str(problem) for problem in read.problems]
        return read
