"""The strength of one plane: a grid posterior averaged over the Weibull and lognormal laws.

Location is the median strength, spread s the standard deviation of ln strength in both laws
(lognormal sigma = s, Weibull shape = 1.28255 / s), so one prior serves both: ln median in MPa
normal about ln 2 with 1.5, ln s normal about ln 0.30 with 0.75 and s cut to 0.06–1.5. The two laws
start 50 : 50 and are weighted by their evidence. The coverage of its intervals is simulated in
`tests/benchmarks/coverage.md`.

References:
    Competing failure modes as independent censoring, each mode fitted with the others censored:
    Meeker and Escobar, Statistical Methods for Reliability Data (1998), chapter 15.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.special import log_ndtr, ndtri

from workbench.analysis.strength.evidence import Evidence, Floats, sums_by

SPREAD_OF_WEIBULL = math.pi / math.sqrt(6)
"""Standard deviation of ln strength times the shape of a Weibull law, 1.28255."""

_LN2 = math.log(2)
_LN_MEDIAN_RANGE = (math.log(0.005), math.log(800))
_LN_SPREAD_RANGE = (math.log(0.06), math.log(1.5))
_MEDIAN_PRIOR = (math.log(2), 1.5)
_SPREAD_PRIOR = (math.log(0.30), 0.75)
_COARSE, _FINE = (31, 25), (121, 41)
_NEGLIGIBLE = 13.0
_MOST_NODES = 40
_MOST_ZOOMS, _SETTLED = 8, 0.6

Box = tuple[float, float, float, float]
LogDensity = Callable[[Floats, Floats], Floats]


@dataclass(frozen=True, slots=True)
class _Data:
    """Evidence in ln MPa with equal readings put together.

    Attributes:
        broke_weight: Sum of the broken shares.
        broke_sum: Sum of share times ln x over what broke.
        broke_squares: Sum of share times (ln x)² over what broke.
        broke: Nodes of ln x where it broke, with weights.
        held: Nodes of ln x that held, with weights.
        away: Nodes of ln x that came away below, with weights.
    """

    broke_weight: float
    broke_sum: float
    broke_squares: float
    broke: tuple[Floats, Floats]
    held: tuple[Floats, Floats]
    away: tuple[Floats, Floats]

    @classmethod
    def of(cls, evidence: Evidence) -> "_Data":
        ln_x = np.log(evidence.mpa)
        w = evidence.broke
        return cls(
            broke_weight=float(w.sum()),
            broke_sum=float(w @ ln_x),
            broke_squares=float(w @ ln_x**2),
            broke=_nodes(ln_x, w),
            held=_nodes(ln_x, evidence.held),
            away=_nodes(ln_x, evidence.came_away),
        )


def _nodes(ln_x: Floats, weight: Floats) -> tuple[Floats, Floats]:
    """Return distinct readings with their weights; many are spread over a fine comb of nodes.

    Each reading is split over its two neighbouring nodes so that weight and mean are kept.
    """
    used = weight > 0
    nodes, where = np.unique(ln_x[used], return_inverse=True)
    sums = sums_by(where, weight[used], nodes.size)
    if nodes.size <= _MOST_NODES:
        return nodes, sums
    comb = np.linspace(nodes[0], nodes[-1], _MOST_NODES)
    at = (nodes - comb[0]) / (comb[1] - comb[0])
    left = np.minimum(at.astype(int), _MOST_NODES - 2)
    right_part = at - left
    split = sums_by(left, sums * (1 - right_part), _MOST_NODES)
    return comb, split + sums_by(left + 1, sums * right_part, _MOST_NODES)


def _lognormal(data: _Data, ln_median: Floats, spread: Floats) -> Floats:
    """Return the log likelihood of the lognormal law on a grid, medians down, spreads across."""
    m, s = ln_median[:, None], spread[None, :]
    squares = data.broke_squares - 2 * m * data.broke_sum + m**2 * data.broke_weight
    found = -squares / (2 * s**2) - data.broke_weight * np.log(s * math.sqrt(2 * math.pi))
    for (nodes, weight), sign in ((data.held, 1), (data.away, -1)):
        for start in range(0, nodes.size, 8):
            z = (m[..., None] - nodes[start : start + 8]) / s[..., None]
            found = found + log_ndtr(sign * z) @ weight[start : start + 8]
    return found


def _weibull(data: _Data, ln_median: Floats, spread: Floats) -> Floats:
    """Return the log likelihood of the Weibull law on a grid, medians down, spreads across.

    Densities are of ln strength in both laws, so that their evidence can be compared.
    """
    shape = SPREAD_OF_WEIBULL / spread[None, :]
    ln_scale = ln_median[:, None] - math.log(_LN2) / shape
    found = data.broke_weight * np.log(shape)
    found = found + shape * (data.broke_sum - data.broke_weight * ln_scale)
    for nodes, weight in (data.broke, data.held):
        if nodes.size:
            top = nodes.max()
            powers = np.exp((nodes - top) * shape.T) @ weight
            found = found - np.exp(np.minimum(shape * (top - ln_scale), 600)) * powers
    for node, weight in zip(*data.away, strict=True):
        hazard = np.exp(np.clip(shape * (node - ln_scale), -600, 600))
        found = found + weight * np.log(-np.expm1(-hazard))
    return found


def likelihoods(evidence: Evidence) -> tuple[LogDensity, LogDensity]:
    """Return the log likelihoods of the Weibull and the lognormal law, of densities of ln strength.

    Each takes grids of ln median and of ln s, and gives a value for every pair of them.
    """
    data = _Data.of(evidence)

    def weibull(ln_median: Floats, ln_spread: Floats) -> Floats:
        return _weibull(data, ln_median, np.exp(ln_spread))

    def lognormal(ln_median: Floats, ln_spread: Floats) -> Floats:
        return _lognormal(data, ln_median, np.exp(ln_spread))

    return weibull, lognormal


def _prior(ln_median: Floats, spread: Floats) -> Floats:
    at, wide = _MEDIAN_PRIOR
    middle, width = _SPREAD_PRIOR
    of_median = -((ln_median - at) ** 2) / (2 * wide**2)
    of_spread = -((np.log(spread) - middle) ** 2) / (2 * width**2)
    return of_median[:, None] + of_spread[None, :]


def _axes(box: Box, size: tuple[int, int]) -> tuple[Floats, Floats]:
    return np.linspace(box[0], box[1], size[0]), np.linspace(box[2], box[3], size[1])


def window(log_density: LogDensity, box: Box, drop: float) -> Box:
    """Return the part of `box` in which a log density is within `drop` of its top.

    The medians are closed in on first, with all spreads open: between two coarse medians the best
    spread is far too large, and the true one would be lost.
    """
    low, high, low_s, high_s = box
    for _ in range(_MOST_ZOOMS):
        ln_m, ln_s = _axes((low, high, low_s, high_s), _COARSE)
        wide = high - low
        low, high = _within(ln_m, log_density(ln_m, ln_s).max(axis=1), drop)
        if high - low > _SETTLED * wide:
            break
    for _ in range(_MOST_ZOOMS):
        ln_m, ln_s = _axes((low, high, low_s, high_s), _COARSE)
        wide = high_s - low_s
        low_s, high_s = _within(ln_s, log_density(ln_m, ln_s).max(axis=0), drop)
        if high_s - low_s > _SETTLED * wide:
            break
    return low, high, low_s, high_s


def _within(grid: Floats, profile: Floats, drop: float) -> tuple[float, float]:
    """Return the ends of the part of `grid` within `drop` of the top, one node to the safe side."""
    inside = np.flatnonzero(profile > profile.max() - drop)
    first, last = max(inside[0] - 1, 0), min(inside[-1] + 1, grid.size - 1)
    return float(grid[first]), float(grid[last])


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is known of the strength of one plane.

    Attributes:
        ln_median: Grid of ln median in MPa, ascending, evenly spaced.
        ln_spread: Grid of ln s, ascending, evenly spaced.
        mass: Probability of each node by law (Weibull, lognormal), median and spread; sums to 1.
    """

    ln_median: Floats
    ln_spread: Floats
    mass: Floats

    @property
    def weibull_weight(self) -> float:
        """Probability of the Weibull law against the lognormal."""
        return float(self.mass[0].sum())

    def median(self, *probabilities: float) -> tuple[float, ...]:
        """Return quantiles of the median strength, in MPa."""
        of_median = self.mass.sum(axis=(0, 2))
        return tuple(np.exp(_quantiles(self.ln_median, of_median, probabilities)).tolist())

    def spread(self, *probabilities: float) -> tuple[float, ...]:
        """Return quantiles of the standard deviation of ln strength."""
        of_spread = self.mass.sum(axis=(0, 1))
        return tuple(np.exp(_quantiles(self.ln_spread, of_spread, probabilities)).tolist())

    def fractile(self, share: float, *probabilities: float) -> tuple[float, ...]:
        """Return quantiles of the strength below which `share` of all spots lie, in MPa."""
        shifts = np.exp(self.ln_spread) * _unit_fractiles(share)[:, None]
        low, high = self.ln_median[0] + shifts.min(), self.ln_median[-1] + shifts.max()
        grid = np.linspace(low, high, 2 * self.ln_median.size)
        below = np.zeros_like(grid)
        for by_spread, mass in zip(shifts, self.mass, strict=True):
            fine, rows = _below(self.ln_median, mass)
            for column, shift in enumerate(by_spread):
                share = mass[:, column].sum()
                below += share * np.interp(grid, fine + shift, rows[:, column])
        return tuple(np.exp(np.interp(probabilities, below, grid)).tolist())

    def draw(self, count: int, rng: np.random.Generator) -> tuple[Floats, Floats, Floats]:
        """Return `count` draws: law (0 Weibull, 1 lognormal), ln median and spread."""
        flat = rng.choice(self.mass.size, count, p=self.mass.ravel() / self.mass.sum())
        law, row, column = np.unravel_index(flat, self.mass.shape)
        return law.astype(float), self.ln_median[row], np.exp(self.ln_spread[column])


def _unit_fractiles(share: float) -> Floats:
    """Return where a fractile lies from ln median, in units of s: Weibull, lognormal."""
    weibull = math.log(-math.log1p(-share) / _LN2) / SPREAD_OF_WEIBULL
    return np.array([weibull, float(ndtri(share))])


def _below(grid: Floats, mass: Floats) -> tuple[Floats, Floats]:
    """Return a finer grid and the probability below each of its points.

    The density between nodes is a cubic spline, so that a coarse grid gives fine quantiles.
    """
    step = grid[1] - grid[0]
    density = mass / step
    density[[0, -1]] *= 2
    fine = np.linspace(grid[0], grid[-1], 8 * (grid.size - 1) + 1)
    below = CubicSpline(grid, density).antiderivative()(fine)
    return fine, np.maximum.accumulate(below / below[-1], axis=0)


def _quantiles(grid: Floats, mass: Floats, probabilities: tuple[float, ...]) -> Floats:
    fine, below = _below(grid, mass)
    return np.interp(probabilities, below, fine)


def posterior_of(evidence: Evidence) -> Posterior:
    """Return what `evidence` says of the strength of its plane.

    Readings in which nothing broke at the plane and nothing came away say no more than a lower
    bound; for those `bounds.lower_bound` is honest and this is not.
    """
    laws = likelihoods(evidence)

    def densities(ln_m: Floats, ln_s: Floats) -> Floats:
        prior = _prior(ln_m, np.exp(ln_s))
        return np.stack([law(ln_m, ln_s) + prior for law in laws])

    def highest(ln_m: Floats, ln_s: Floats) -> Floats:
        found = densities(ln_m, ln_s)
        return cast("Floats", (found - found.max(axis=(1, 2), keepdims=True)).max(axis=0))

    whole = (*_LN_MEDIAN_RANGE, *_LN_SPREAD_RANGE)
    ln_m, ln_s = _axes(window(highest, whole, _NEGLIGIBLE), _FINE)
    density = densities(ln_m, ln_s)
    mass = np.exp(density - density.max())
    for edge in ((0, 1), (-1, 1), (0, 2), (-1, 2)):
        np.moveaxis(mass, edge[1], 0)[edge[0]] /= 2
    return Posterior(ln_m, ln_s, mass / mass.sum())
