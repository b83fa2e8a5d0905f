"""Everything that the originals and results of the laboratory say, in one value."""

from dataclasses import dataclass, field

from workbench.analysis.laboratory.elements import ElementStudy
from workbench.analysis.laboratory.micrographs import ReadSection
from workbench.analysis.laboratory.spectra import SpectrumStudy
from workbench.analysis.laboratory.thermograms import ReadTransition, Thermogram


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Laboratory:
    """What was read and computed.

    Attributes:
        spectra: Every spectrum, evaluated.
        thermograms: Every thermogram.
        transitions: Glass transitions as a person constructed them.
        sections: Sections as a person confirmed them.
        elements: Elements by face.
        problems: What could not be read or computed, as sentences.
    """

    spectra: tuple[SpectrumStudy, ...] = ()
    thermograms: tuple[Thermogram, ...] = ()
    transitions: tuple[ReadTransition, ...] = ()
    sections: tuple[ReadSection, ...] = ()
    elements: ElementStudy = field(default_factory=lambda: ElementStudy((), (), ()))
    problems: tuple[str, ...] = ()
