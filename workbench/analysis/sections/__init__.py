"""Cross-sections: layer thickness from a micrograph with a scale, along one or more profiles."""

from workbench.analysis.sections.layers import (
    LayerThickness,
    Seam,
    Section,
    find_seams,
    measure_layers,
)
from workbench.analysis.sections.profile import Scale, profile

__all__ = [
    "LayerThickness",
    "Scale",
    "Seam",
    "Section",
    "find_seams",
    "measure_layers",
    "profile",
]
