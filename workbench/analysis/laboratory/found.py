"""Everything that the originals and results of the laboratory say, in one value."""

from dataclasses import dataclass, field

from workbench.analysis.laboratory.checks import InstrumentCheck
from workbench.analysis.laboratory.colours import ColourChange
from workbench.analysis.laboratory.elements import ElementStudy
from workbench.analysis.laboratory.estimates import Estimated
from workbench.analysis.laboratory.micrographs import ReadSection
from workbench.analysis.laboratory.peaks import CureDegree, ReadPeak
from workbench.analysis.laboratory.spectra import SpectrumStudy
from workbench.analysis.laboratory.thermograms import ReadTransition, Thermogram, TwoHeats
from workbench.analysis.laboratory.xrays import XrayStudy


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Laboratory:
    """What was read and computed.

    Attributes:
        spectra: Every infrared spectrum, evaluated.
        thermograms: Every thermogram.
        transitions: Glass transitions as a person constructed them.
        heats: First and second heat of one specimen side by side.
        peaks: Peaks of thermograms as a person bounded them.
        cures: Degrees of cure, by what is left of the exotherm of the fresh mixture.
        estimates: Glass transitions reckoned from composition or cure.
        checks: Checks of the instruments with known materials.
        sections: Sections as a person confirmed them.
        elements: Elements by face.
        xrays: X-ray spectra, labelled.
        colours: Colours and gloss held against each other.
        problems: What could not be read or computed, as sentences.
    """

    spectra: tuple[SpectrumStudy, ...] = ()
    thermograms: tuple[Thermogram, ...] = ()
    transitions: tuple[ReadTransition, ...] = ()
    heats: tuple[TwoHeats, ...] = ()
    peaks: tuple[ReadPeak, ...] = ()
    cures: tuple[CureDegree, ...] = ()
    estimates: tuple[Estimated, ...] = ()
    checks: tuple[InstrumentCheck, ...] = ()
    sections: tuple[ReadSection, ...] = ()
    elements: ElementStudy = field(default_factory=lambda: ElementStudy((), (), (), ()))
    xrays: tuple[XrayStudy, ...] = ()
    colours: tuple[ColourChange, ...] = ()
    problems: tuple[str, ...] = ()
