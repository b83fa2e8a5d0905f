"""X-ray spectra of a case: labelled with what was reported of the face, and with nothing else."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.analysis.spectra.spectrum import Spectrum
from workbench.analysis.xray import XrayPeak, label_peaks, mistakable, overlaps, xray_elements
from workbench.records import Dossier, LabResult, Source
from workbench.records.codes import Condition, Qualifier


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LabXray:
    """A spectrum of X-rays and what it was measured on.

    Attributes:
        spectrum: Counts over energy in keV.
        file: Name of the original.
        part: Title of the block or heading of the column.
        sample: Ref of the sample; empty where none is said.
        face: The face, as written.
        condition: What the sample stands for.
        notes: What the file says of how it was measured.
        ordinate: Name of the ordinate, as written.
        sources: The records that name the file.
    """

    spectrum: Spectrum
    file: str
    part: str = ""
    sample: str = ""
    face: str = ""
    condition: Condition = Condition.UNKNOWN
    notes: tuple[str, ...] = ()
    ordinate: str = "counts"
    sources: tuple[Source, ...] = ()

    @property
    def name(self) -> str:
        """Sample and face, or the title where no sample is said."""
        return ", ".join(part for part in (self.sample, self.face) if part) or self.part


@dataclass(frozen=True, slots=True, eq=False)
class XrayStudy:
    """A spectrum of X-rays labelled.

    Attributes:
        of: The spectrum.
        listed: The elements that it was labelled with.
        peaks: Its peaks.
        warnings: What may be taken for what, as sentences.
    """

    of: LabXray
    listed: tuple[str, ...]
    peaks: tuple[XrayPeak, ...]
    warnings: tuple[str, ...]


def study_xray(dossier: Dossier, of: LabXray, listed: Iterable[str] | None = None) -> XrayStudy:
    """Return a spectrum labelled with the elements `listed`, else with those of its results.

    Args:
        dossier: The case.
        of: The spectrum.
        listed: Symbols of elements that a person asks for; None takes those reported.
    """
    reported = _reported(dossier, of)
    named = tuple(listed) if listed is not None else tuple(reported)
    known = tuple(name for name in named if name in xray_elements())
    peaks = label_peaks(of.spectrum, known)
    strange = [name for name in named if name not in xray_elements()]
    above = [name for name in known if reported.get(name, True)]
    asked = mistakable(known) if listed is not None else ()
    warnings = [*overlaps(known), *asked, *_unseen(above, peaks)]
    if strange:
        warnings.append(f"no lines are known here for {', '.join(strange)}")
    if not known:
        warnings.append("no element was reported of this face: peaks bear no label")
    return XrayStudy(of, known, peaks, tuple(warnings))


def _reported(dossier: Dossier, of: LabXray) -> dict[str, bool]:
    """Return the elements reported of the face, and whether each was found above its limit."""
    return {
        one.quantity.partition(":")[2]: one.qualifier is not Qualifier.BELOW
        for one in dossier.all(LabResult)
        if one.quantity.startswith("eds:") and one.sample == of.sample
        and (not of.face or not one.face or str(one.face) == of.face)
    }  # fmt: skip


def _unseen(known: Iterable[str], peaks: tuple[XrayPeak, ...]) -> Iterable[str]:
    seen = {line.split()[0] for peak in peaks for line in peak.lines}
    if unseen := [name for name in known if name not in seen]:
        yield f"reported, and no peak stands out of the spectrum: {', '.join(unseen)}"
