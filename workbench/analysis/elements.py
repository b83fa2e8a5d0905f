"""Elements by energy-dispersive X-rays, as tables: closure, ratios between faces."""

from dataclasses import dataclass

from workbench.analysis.xray import xray_elements


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


def as_oxides(shares: dict[str, float]) -> dict[str, float]:
    """Return mass shares of elements as those of their oxides, in percent.

    Oxygen and carbon that were reported are left out: oxygen comes by the formulas, and carbon
    belongs to binder, coating of the specimen or carbonate. What has no oxide, as chlorine, stays.
    """
    told = {}
    for name, share in shares.items():
        one = xray_elements().get(name)
        if one is None or name in ("C", "O"):
            continue
        told[one.oxide or name] = share * one.oxide_factor
    return told


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
