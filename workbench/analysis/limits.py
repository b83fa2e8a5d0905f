"""Which limit of the case holds for a quantity at a place and a coat."""

from collections.abc import Iterable

from workbench.records import Area, Coat, Dossier, Limit


def limits_on(
    dossier: Dossier, quantity: str, area: Area | None = None, coat: Coat | None = None
) -> tuple[Limit, ...]:
    """Return the limits on `quantity` that hold here, those that name the most first.

    A limit for the area goes before one for the layer, the product, the system and the case.
    """
    names = _names(area, coat)
    held = [one for one in dossier.all(Limit) if one.quantity == quantity]
    return tuple(one for name in names for one in held if one.applies_to == name)


def holds_at(dossier: Dossier, limit: Limit, area: Area | None) -> bool:
    """Return whether a limit holds for what was read in `area`; without one only for all."""
    if not limit.applies_to:
        return True
    if area is None:
        return False
    coats = dossier.system_of(area)
    names = {name for coat in coats for name in _names(area, coat)}
    return limit.applies_to in (names or set(_names(area, None)))


def _names(area: Area | None, coat: Coat | None) -> Iterable[str]:
    """Return what a limit may be for, the narrowest first."""
    layer = [f"{coat.system}:{coat.order}", coat.product, coat.system] if coat else []
    system = [area.system] if area and not coat else []
    places = [area.ref, area.within] if area else []
    return [*dict.fromkeys(name for name in (*places, *layer, *system) if name), ""]
