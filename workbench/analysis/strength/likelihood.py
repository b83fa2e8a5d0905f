"""Maximum likelihood for the strength of a plane: the second opinion beside the default.

Wald intervals from these fits cover far less than they say with few pulls (0.57 to 0.92 for
95 %), so none are given; the profile of the lognormal median, cut for few breaks, is sound from
three breaks on.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.optimize import minimize
from scipy.special import log_ndtr
from scipy.stats import t as student

from workbench.analysis.strength.evidence import Evidence, Floats
from workbench.analysis.strength.posterior import lognormal_likelihood, window
from workbench.analysis.strength.results import Interval

_FINE = (121, 41)


class Law(StrEnum):
    """A law of strength, in its location-scale form for ln strength."""

    WEIBULL = "Weibull"
    LOGNORMAL = "lognormal"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A maximum likelihood fit of ln strength.

    Attributes:
        law: The law.
        mu: Location: ln of the Weibull scale, or the mean of ln strength.
        sigma: Scale: 1 / Weibull shape, or the standard deviation of ln strength.
        mu_error: Standard error of `mu`, from the observed information.
        sigma_error: Standard error of `sigma`.
        log_likelihood: At the maximum, for densities of strength in the unit given.
    """

    law: Law
    mu: float
    sigma: float
    mu_error: float
    sigma_error: float
    log_likelihood: float

    @property
    def median(self) -> float:
        """Median strength, in the unit of the evidence."""
        shift = math.log(math.log(2)) if self.law is Law.WEIBULL else 0.0
        return math.exp(self.mu + shift * self.sigma)


def fit(evidence: Evidence, law: Law) -> Fit | None:
    """Return the maximum likelihood fit, or None where there is none.

    There is none with a single break at the highest reading, or with equal readings.
    """
    ln_x = np.log(evidence.mpa)

    def loss(at: Floats) -> float:
        return -_log_likelihood(evidence, ln_x, law, float(at[0]), math.exp(float(at[1])))

    start = np.array([ln_x.mean(), math.log(max(float(ln_x.std()), 0.1))])
    found = minimize(loss, start, method="Nelder-Mead", tol=1e-11)
    mu, sigma = float(found.x[0]), math.exp(float(found.x[1]))
    if not (found.success and 1e-3 < sigma < 50):
        return None
    errors = _errors(lambda m, s: _log_likelihood(evidence, ln_x, law, m, s), mu, sigma)
    if errors is None:
        return None
    return Fit(
        law=law,
        mu=mu,
        sigma=sigma,
        mu_error=errors[0],
        sigma_error=errors[1],
        log_likelihood=-float(found.fun) - float(evidence.broke @ ln_x),
    )


def _log_likelihood(evidence: Evidence, ln_x: Floats, law: Law, mu: float, sigma: float) -> float:
    z = (ln_x - mu) / sigma
    if law is Law.WEIBULL:
        hazard = np.exp(np.minimum(z, 600))
        density, held, away = z - hazard, -hazard, np.log(-np.expm1(-np.maximum(hazard, 1e-300)))
    else:
        density = -(z**2) / 2 - math.log(2 * math.pi) / 2
        held, away = log_ndtr(-z), log_ndtr(z)
    of_broke = evidence.broke @ density - evidence.weight * math.log(sigma)
    return float(of_broke + evidence.held @ held + evidence.came_away @ away)


def _errors(
    log_likelihood: Callable[[float, float], float], mu: float, sigma: float
) -> tuple[float, float] | None:
    """Return standard errors from second differences, or None where the top is not a peak."""
    h, k = 1e-4 * max(sigma, 1e-2), 1e-4 * sigma
    at = log_likelihood
    top = at(mu, sigma)
    mm = (at(mu + h, sigma) - 2 * top + at(mu - h, sigma)) / h**2
    ss = (at(mu, sigma + k) - 2 * top + at(mu, sigma - k)) / k**2
    ms = at(mu + h, sigma + k) - at(mu + h, sigma - k) - at(mu - h, sigma + k)
    ms = (ms + at(mu - h, sigma - k)) / (4 * h * k)
    determinant = mm * ss - ms**2
    if mm >= 0 or determinant <= 0:
        return None
    return math.sqrt(-ss / determinant), math.sqrt(-mm / determinant)


def second_opinion(evidence: Evidence, confidence: float) -> Interval | None:
    """Return the lognormal median with its profile interval; None with under three breaks.

    The cut is d·ln(1 + t² / (d − 1)) with d breaks, which is exact for readings that all broke
    here. An end that the data do not give is None.
    """
    breaks = evidence.weight
    if breaks < 3 - 1e-9:
        return None
    quantile = float(student.ppf((1 + confidence) / 2, breaks - 1))
    cut = breaks * math.log1p(quantile**2 / (breaks - 1)) / 2
    ln_x = np.log(evidence.mpa)
    box = (float(ln_x.min()) - 5, float(ln_x.max()) + 5, math.log(0.01), math.log(5))
    likelihood = lognormal_likelihood(evidence)
    inside = window(likelihood, box, cut + 1)
    ln_median = np.linspace(inside[0], inside[1], _FINE[0])
    found = likelihood(ln_median, np.linspace(inside[2], inside[3], _FINE[1]))
    profile = found.max(axis=1)
    return _interval(ln_median, profile - profile.max() + cut)


def _interval(ln_median: Floats, above: Floats) -> Interval:
    """Return the top of a profile and where it crosses zero on either side."""
    top = int(above.argmax())
    low = np.interp(0, above[: top + 1], ln_median[: top + 1]) if above[0] < 0 else None
    high = np.interp(0, above[top:][::-1], ln_median[top:][::-1]) if above[-1] < 0 else None
    ends = (None if end is None else float(np.exp(end)) for end in (low, high))
    low_mpa, high_mpa = ends
    return Interval(mpa=float(np.exp(ln_median[top])), low_mpa=low_mpa, high_mpa=high_mpa)
