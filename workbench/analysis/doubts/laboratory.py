"""Doubts about laboratory results: no control, or a deviation that the laboratory reports."""

from collections.abc import Iterable

from workbench.analysis.doubts.ground import Ground
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.records import LabResult, Sample
from workbench.records.codes import Condition, Purpose
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.names import quantity_name

_COMPARED = (
    "ftir_", "foreign", "residue:", "solvent", "plasticiser", "eds:", "fluid_", "salt:", "zinc_",
    "interface_", "abrasion_marks", "ester_", "conversion_layer",
)  # fmt: skip
"""Beginnings of quantities that are findings only against a control."""
_ARE_CONTROLS = frozenset({Purpose.CONTROL, Purpose.REFERENCE, Purpose.BLANK, Purpose.NON_FAILING})
_NONE = frozenset({"", "none"})
_TOLD = Basis("ISO/IEC 17025, 7.8.2", Status.READ)


def doubts_of_laboratory(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about each laboratory result."""
    for result in ground.dossier.all(LabResult):
        if _needs_control(ground, result) and not result.control:
            named = quantity_name(result.quantity)
            words = f"{named} without a control: what is found may be everywhere"
            yield Doubt.about(result, Rule.NO_CONTROL, words, PRACTICE)
        if (said := result.deviation.strip()).lower() not in _NONE:
            yield Doubt.about(result, Rule.DEVIATION, said, _TOLD)


def _needs_control(ground: Ground, result: LabResult) -> bool:
    sample = ground.dossier.find(Sample, result.sample)
    if sample and sample.purpose in _ARE_CONTROLS:
        return False
    sound = {Condition.NON_FAILING, Condition.CONTROL}
    if sample and sample.purpose is None and ground.dossier.condition_at(sample.ref) in sound:
        return False
    return result.quantity.startswith(_COMPARED)
