"""Checks of the instruments with known materials: where a value should lie and where it was."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.analysis.laboratory.peaks import ReadPeak
from workbench.analysis.laboratory.spectra import SpectrumStudy
from workbench.analysis.laboratory.thermograms import ReadTransition
from workbench.analysis.thermal.events import INDIUM_FUSION_J_G, INDIUM_MELTING_C
from workbench.records import CheckMaterial, Source, TransitionDefinition

INDIUM_WITHIN_K, INDIUM_WITHIN_SHARE = 0.5, 0.02
POLYSTYRENE_C, POLYSTYRENE_WITHIN_K = 107.0, 2.0


@dataclass(frozen=True, slots=True)
class InstrumentCheck:
    """One value of a known material.

    Attributes:
        what: The material and the quantity.
        unit: Unit of the values.
        should: Where it should lie.
        tolerance: How far from there it may lie.
        found: Where it was; None where it was not found.
        basis: Where value and tolerance come from.
        sources: The records behind it.
        note: What else there is to say.
    """

    what: str
    unit: str
    should: float
    tolerance: float
    found: float | None
    basis: str
    sources: tuple[Source, ...]
    note: str = ""

    @property
    def material(self) -> str:
        """What was measured."""
        return self.what.partition(",")[0]

    @property
    def within(self) -> bool | None:
        """Whether it lies within the tolerance; None where it was not found."""
        return None if self.found is None else abs(self.found - self.should) <= self.tolerance

    @property
    def verdict(self) -> str:
        """The same in words."""
        return {True: "within", False: "out of tolerance", None: "not found"}[self.within]


def checks_of(
    spectra: Iterable[SpectrumStudy],
    transitions: Iterable[ReadTransition],
    peaks: Iterable[ReadPeak],
) -> tuple[InstrumentCheck, ...]:
    """Return every check with a polystyrene film, with polystyrene, and with indium."""
    found: list[InstrumentCheck] = []
    for study in spectra:
        found += _film(study)
    for one in transitions:
        if one.reading.check is CheckMaterial.POLYSTYRENE:
            found.append(_polystyrene(one))
    for peak in peaks:
        if peak.reading.check is CheckMaterial.INDIUM:
            found += _indium(peak)
    return tuple(found)


def _film(study: SpectrumStudy) -> Iterable[InstrumentCheck]:
    if study.wavenumbers is None:
        return
    depth = study.wavenumbers.depth_2870_2850
    thin = depth is not None and depth < _LEAST_DEPTH
    for band in study.wavenumbers.bands:
        yield InstrumentCheck(
            f"polystyrene film, band {band.nominal:.1f}", "1/cm", band.nominal, band.tolerance,
            band.found, "Ph. Eur. 2.2.24 and Japanese Pharmacopoeia (read in a quotation)",
            study.of.sources, f"{depth:.0f} %T between 2870 and 2850: a thin film" if thin else "",
        )  # fmt: skip


_LEAST_DEPTH = 18.0
"""Depth between 2870 and 2850 1/cm of a film of about 0.04 mm, in %T (READ in the same place)."""


def _polystyrene(one: ReadTransition) -> InstrumentCheck:
    by_half = one.transition.celsius[TransitionDefinition.HALF_HEIGHT]
    return InstrumentCheck(
        "polystyrene, glass transition by half height", "°C", POLYSTYRENE_C, POLYSTYRENE_WITHIN_K,
        by_half, "Rieger, J. Thermal Anal. 46 (1996) 965, over ten instruments (read)",
        (one.reading.source,), "a lower value is often quoted, by another definition",
    )  # fmt: skip


def _indium(peak: ReadPeak) -> Iterable[InstrumentCheck]:
    source = (peak.reading.source,)
    yield InstrumentCheck(
        "indium, onset of melting", "°C", INDIUM_MELTING_C, INDIUM_WITHIN_K, peak.event.onset_c,
        "melting at ITS-90 (read); tolerance: common practice", source,
        "" if peak.exothermic is not True else "the peak is exothermic: no melting",
    )  # fmt: skip
    yield InstrumentCheck(
        "indium, heat of fusion", "J/g", INDIUM_FUSION_J_G, INDIUM_WITHIN_SHARE * INDIUM_FUSION_J_G,
        peak.energy_j_g,
        "Archer and Rudtsch, J. Chem. Eng. Data 48 (2003) 1157 (read); tolerance: common practice",
        source,
    )  # fmt: skip
