"""Elements by energy-dispersive X-rays, as tables: overlaps, closure, ratios between faces."""

from dataclasses import dataclass

OVERLAPS: tuple[tuple[str, str, str], ...] = (
    ("Ti", "Ba", "Ti Ka 4.512 keV and Ba La 4.466 keV"),
    ("S", "Pb", "S Ka 2.309 keV and Pb Ma 2.342 keV"),
    ("S", "Mo", "S Ka 2.309 keV and Mo La 2.292 keV"),
    ("Pb", "Mo", "Pb Ma 2.342 keV and Mo La 2.292 keV"),
    ("Ti", "V", "Ti Kb 4.933 keV and V Ka 4.953 keV"),
    ("Zn", "Na", "Zn La 1.012 keV and Na Ka 1.040 keV"),
    ("Cr", "Mn", "Cr Kb 5.947 keV and Mn Ka 5.900 keV"),
)
"""Pairs of elements whose lines lie too close to be told apart by energy alone.

Energies from the X-ray data of the xraydb library (Elam, Ravel and Sieber tables).
"""
K_ALPHA_KEV = {
    "C": 0.277, "N": 0.392, "O": 0.525, "Na": 1.041, "Mg": 1.254, "Al": 1.487, "Si": 1.740,
    "P": 2.013, "S": 2.307, "Cl": 2.622, "K": 3.314, "Ca": 3.692, "Ti": 4.511, "Cr": 5.415,
    "Mn": 5.900, "Fe": 6.404, "Cu": 8.048, "Zn": 8.639,
}  # fmt: skip
"""K alpha energies in keV (from memory)."""


@dataclass(frozen=True, slots=True)
class Closure:
    """The sum of an analysis and what may be done with it.

    Attributes:
        total_percent: Sum of the shares as reported.
        normalised: The shares scaled to 100 percent.
        acceptable: Whether the total lies from 98 to 102 percent; outside it a normalised table
            hides that something was not measured.
    """

    total_percent: float
    normalised: dict[str, float]
    acceptable: bool


def overlaps(elements: frozenset[str]) -> tuple[str, ...]:
    """Return a warning for each pair of reported elements whose lines overlap."""
    return tuple(
        f"{one} and {other} cannot be told apart by energy alone ({lines})"
        for one, other, lines in OVERLAPS
        if one in elements and other in elements
    )


def possible_confusions(element: str) -> tuple[str, ...]:
    """Return the elements whose line may have been taken for that of `element`."""
    return tuple(
        other if one == element else one for one, other, _ in OVERLAPS if element in (one, other)
    )


def sum_peaks(elements: frozenset[str], kev: float, *, within_kev: float = 0.03) -> tuple[str, ...]:
    """Return which pairs of K alpha lines of `elements` add up to a peak at `kev`.

    Two photons counted as one give a peak at the sum of their energies, which is then taken for an
    element that is not there.
    """
    known = sorted(elements & K_ALPHA_KEV.keys())
    return tuple(
        f"{a} + {b}"
        for n, a in enumerate(known)
        for b in known[n:]
        if abs(K_ALPHA_KEV[a] + K_ALPHA_KEV[b] - kev) <= within_kev
    )


def close(shares: dict[str, float]) -> Closure:
    """Return the closure of mass shares in percent.

    Raises:
        ValueError: A share is negative or all are 0.
    """
    total = sum(shares.values())
    if total <= 0 or min(shares.values(), default=0) < 0:
        raise ValueError("shares are not negative, and not all are 0")
    normalised = {name: 100 * share / total for name, share in shares.items()}
    return Closure(total, normalised, 98 <= total <= 102)


def ratio_of_faces(one: float, other: float, *, detection_limit: float = 0.1) -> tuple[float, str]:
    """Return how many times more of an element one face shows than the other, and its bound.

    Args:
        one: Mass share on the first face, in percent; 0 where not detected.
        other: Mass share on the second face.
        detection_limit: Least share that the method shows, in percent (0.1 by default; from
            memory, for elements from sodium on).

    Returns:
        The ratio, and "=", or ">" where the second share lies below the detection limit, or "<"
        where the first does.

    Raises:
        ValueError: Both lie below the detection limit.
    """
    if max(one, other) < detection_limit:
        raise ValueError("both faces lie below the detection limit: there is no ratio")
    bound = ">" if other < detection_limit else "<" if one < detection_limit else "="
    return max(one, detection_limit) / max(other, detection_limit), bound


def areal_density_ug_cm2(mg_per_l: float, extract_ml: float, area_cm2: float) -> float:
    """Return an ion's mass on a surface in ug/cm2 from its concentration in the extract.

    ug/cm2 = c (mg/L) V (mL) / A (cm2).

    Raises:
        ValueError: A volume or area is not above 0, or a concentration below 0.
    """
    if extract_ml <= 0 or area_cm2 <= 0 or mg_per_l < 0:
        raise ValueError("volume and area lie above 0, the concentration is not below 0")
    return mg_per_l * extract_ml / area_cm2
