"""Volatile matter and pigment of a liquid coating, by weighing."""


def volatile_percent(specimen_g: float, dish_g: float, dried_g: float) -> float:
    """Return the volatile matter in percent by mass: 100 - 100 (dried - dish) / specimen.

    Args:
        specimen_g: Mass of the specimen, in g.
        dish_g: Mass of the empty dish, in g.
        dried_g: Mass of dish and specimen after 60 min at 110 degC, in g.

    Raises:
        ValueError: The specimen weighs nothing, or the residue less than nothing or more than it.

    References:
        ASTM D2369: temperature and time READ in an extract, formula from memory.
    """
    residue = dried_g - dish_g
    _check(specimen_g, residue)
    return 100 - 100 * residue / specimen_g


def pigment_percent(specimen_g: float, pigment_g: float) -> float:
    """Return the pigment in percent by mass, separated by solvent and centrifuge.

    Raises:
        ValueError: The specimen weighs nothing, or the pigment less than nothing or more than it.

    References:
        ASTM D2371 (from memory).
    """
    _check(specimen_g, pigment_g)
    return 100 * pigment_g / specimen_g


def _check(specimen_g: float, part_g: float) -> None:
    if specimen_g <= 0:
        raise ValueError("the specimen weighs more than 0 g")
    if not 0 <= part_g <= specimen_g:
        raise ValueError(f"what is left weighs {part_g:g} g; it weighs from 0 to {specimen_g:g} g")
