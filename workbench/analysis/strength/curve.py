"""The strength of a plane without a model: Kaplan-Meier, and Turnbull where coating came away."""

from dataclasses import dataclass
from typing import cast

import numpy as np
from scipy.special import ndtri

from workbench.analysis.strength.evidence import Evidence, Floats, sums_by
from workbench.analysis.strength.results import Curve, Step

_MOST_ROUNDS = 5000
_SETTLED = 1e-8


@dataclass(frozen=True, slots=True, kw_only=True)
class ProductLimit:
    """A Kaplan-Meier curve at the stresses where something broke.

    Attributes:
        mpa: Stresses, ascending.
        at_risk: Weight that was at or above each stress.
        broke: Weight that broke at it.
        surviving: Share that holds more.
        error: Greenwood's standard error of that share.
    """

    mpa: Floats
    at_risk: Floats
    broke: Floats
    surviving: Floats
    error: Floats

    def band(self, confidence: float) -> tuple[Floats, Floats]:
        """Return the lower and upper limits of the curve on the scale ln(−ln S)."""
        z = float(ndtri((1 + confidence) / 2))
        inside = (self.surviving > 0) & (self.surviving < 1)
        s = np.where(inside, self.surviving, 0.5)
        theta = np.where(inside, z * self.error / (s * np.log(s)), 0.0)
        low, high = (
            np.where(inside, s ** np.exp(sign * theta), self.surviving) for sign in (-1, 1)
        )
        return cast("Floats", low), cast("Floats", high)


def product_limit(evidence: Evidence) -> ProductLimit:
    """Return the Kaplan-Meier curve of evidence in which nothing came away.

    A shared break counts by area: its share as broken, the rest as held.

    References:
        Kaplan and Meier, J. Am. Stat. Assoc. 53 (1958) 457; Greenwood's variance.
    """
    mpa, where = np.unique(evidence.mpa, return_inverse=True)
    broke = sums_by(where, evidence.broke, mpa.size)
    whole = sums_by(where, evidence.broke + evidence.held, mpa.size)
    at_risk = np.cumsum(whole[::-1])[::-1]
    steps = broke > 0
    mpa, broke, at_risk = mpa[steps], broke[steps], at_risk[steps]
    left = np.maximum(at_risk - broke, 0.0)
    left[left < 1e-12 * at_risk] = 0.0
    surviving = np.cumprod(left / at_risk).astype(np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        error = surviving * np.sqrt(np.cumsum(broke / (at_risk * left)))
    error = np.nan_to_num(error, posinf=0.0).astype(np.float64)
    return ProductLimit(mpa=mpa, at_risk=at_risk, broke=broke, surviving=surviving, error=error)


@dataclass(frozen=True, slots=True, kw_only=True)
class IntervalCurve:
    """A Turnbull curve: the intervals (low, high] that hold all the probability."""

    low: Floats
    high: Floats
    probability: Floats


def turnbull(low: Floats, high: Floats, weight: Floats) -> IntervalCurve:
    """Return the nonparametric estimate from values known to lie in (low, high].

    Args:
        low: Lower ends; 0 for "at most".
        high: Upper ends; infinity for "at least".
        weight: Weights, above 0.

    References:
        Turnbull, J. R. Stat. Soc. B 38 (1976) 290.
    """
    starts, ends = _innermost(low, high)
    inside = (starts >= low[:, None]) & (ends <= high[:, None])
    share = np.full(starts.size, 1 / starts.size)
    for _ in range(_MOST_ROUNDS):
        expected = weight / (inside @ share)
        new = share * (expected @ inside) / weight.sum()
        settled = float(np.abs(new - share).max()) < _SETTLED
        share = new
        if settled:
            break
    return IntervalCurve(low=starts, high=ends, probability=share)


def _innermost(low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Return the intervals from a lower end to the next end, where that is an upper one."""
    values = np.concatenate([high, low])
    is_low = np.repeat([False, True], low.size)
    order = np.lexsort((is_low, values))
    values, is_low = values[order], is_low[order]
    opens = np.flatnonzero(is_low[:-1] & ~is_low[1:])
    return values[opens], values[opens + 1]


def curve_of(evidence: Evidence, confidence: float) -> Curve | None:
    """Return the curve without a model; None where nothing broke here."""
    if evidence.weight == 0:
        return None
    if evidence.came_away.any():
        return _with_came_away(evidence)
    curve = product_limit(evidence)
    low, high = curve.band(confidence)
    return Curve(
        steps=_steps(curve.mpa, curve.surviving),
        median_mpa=_first_below_half(curve.mpa, curve.surviving),
        low_mpa=_first_below_half(curve.mpa, low),
        high_mpa=_first_below_half(curve.mpa, high),
    )


def _with_came_away(evidence: Evidence) -> Curve:
    x = evidence.mpa
    parts = (
        (np.nextafter(x, 0), x, evidence.broke),
        (x, np.full_like(x, np.inf), evidence.held),
        (np.zeros_like(x), x, evidence.came_away),
    )
    low, high, weight = (np.concatenate([part[at] for part in parts]) for at in range(3))
    ends, where = np.unique(np.stack([low, high])[:, weight > 0], axis=1, return_inverse=True)
    found = turnbull(ends[0], ends[1], sums_by(where.ravel(), weight[weight > 0], ends.shape[1]))
    surviving = 1 - np.cumsum(found.probability)
    known = np.isfinite(found.high)
    median = _first_below_half(found.high[known], surviving[known])
    steps = _steps(found.high[known], surviving[known])
    return Curve(steps=steps, median_mpa=median, low_mpa=None, high_mpa=None)


def _steps(mpa: Floats, surviving: Floats) -> tuple[Step, ...]:
    pairs = zip(mpa.tolist(), surviving.tolist(), strict=True)
    return tuple(Step(mpa=x, surviving=max(share, 0.0)) for x, share in pairs)


def _first_below_half(mpa: Floats, surviving: Floats) -> float | None:
    below = np.flatnonzero(surviving <= 0.5 + 1e-9)
    return float(mpa[below[0]]) if below.size else None
