"""Wet film, dry film, spreading rate and consumption.

Volume solids, thinner and loss are shares of 1; thinner is its volume over the paint's.

References:
    Two estimating guides (READ); MIL-HDBK-1110 for dry from wet film (READ); practical
    consumption with loss (from memory).
"""


def dry_from_wet(wet: float, solids: float, thinner: float = 0.0) -> float:
    """Return the dry film that a wet film leaves, in the wet film's unit."""
    return wet * _share(solids) / (1 + thinner)


def wet_from_dry(dry: float, solids: float, thinner: float = 0.0) -> float:
    """Return the wet film that leaves a dry film, in the dry film's unit."""
    return dry * (1 + thinner) / _share(solids)


def spreading_m2_per_l(dry_um: float, solids: float) -> float:
    """Return the theoretical spreading rate in m²/L at a dry film in µm."""
    return 1000 * _share(solids) / _film(dry_um)


def litres_needed(area_m2: float, dry_um: float, solids: float, loss: float = 0.0) -> float:
    """Return the litres of unthinned paint for an area, with a share lost on the way."""
    return area_m2 / spreading_m2_per_l(dry_um, solids) / (1 - loss)


def dry_from_litres_um(litres: float, area_m2: float, solids: float, loss: float = 0.0) -> float:
    """Return the mean dry film in µm that an amount of paint leaves on an area."""
    if not area_m2 > 0:
        raise ValueError(f"an area of {area_m2:g} m² takes no paint")
    return 1000 * litres * _share(solids) * (1 - loss) / area_m2


def _share(solids: float) -> float:
    if not 0 < solids <= 1:
        raise ValueError(f"volume solids of {solids:g} are not a share of 1: write 65 % as 0.65")
    return solids


def _film(thickness: float) -> float:
    if not thickness > 0:
        raise ValueError(f"a film of {thickness:g} has no spreading rate")
    return thickness
