"""Doubts about laboratory results: a control lacking or not read, a deviation reported."""

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
_MORE_THAN_CONTROL = (
    "ftir_extra_bands", "solvent", "plasticiser", "eds:", "fluid_ion:", "fluid_conductivity",
    "salt:", "tg_", "ash", "density",
)  # fmt: skip
"""Beginnings of quantities of which only the difference from the control tells anything."""
_NOTHING_FOUND = ("none", "negative", "no", "undetermined")
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
        if _names_unread_control(ground, result):
            named = quantity_name(result.quantity)
            words = (
                f"{result.control}, named as the control of {named}, has no result of it: "
                "more than the control cannot be concluded"
            )
            yield Doubt.about(result, Rule.NO_CONTROL, words, PRACTICE)
        if (said := result.deviation.strip()).lower() not in _NONE:
            yield Doubt.about(result, Rule.DEVIATION, said, _TOLD)


def _names_unread_control(ground: Ground, result: LabResult) -> bool:
    """Return whether a result found more than its control, which has no result of its quantity."""
    if not result.control or not result.quantity.startswith(_MORE_THAN_CONTROL):
        return False
    sample = ground.dossier.find(Sample, result.sample)
    if result.value.word in _NOTHING_FOUND or (sample and sample.purpose in _ARE_CONTROLS):
        return False
    return not any(
        one.quantity == result.quantity
        and one.ref != result.ref
        and result.control in (one.ref, one.sample)
        for one in ground.dossier.all(LabResult)
    )


def _needs_control(ground: Ground, result: LabResult) -> bool:
    sample = ground.dossier.find(Sample, result.sample)
    if sample and sample.purpose in _ARE_CONTROLS:
        return False
    sound = {Condition.NON_FAILING, Condition.CONTROL}
    if sample and sample.purpose is None and ground.dossier.condition_at(sample.ref) in sound:
        return False
    return result.quantity.startswith(_COMPARED)
