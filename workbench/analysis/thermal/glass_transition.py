"""The glass transition of a DSC curve; the definition is kept beside the number.

On an aged coating the definitions differ by more than 6 K, so a temperature without its definition
says little.

References:
    ASTM E1356 (extrapolated onset and end by tangents, midpoint, inflection; the end READ, the
    others from memory); ISO 11357-2 (half step height, inflection, equal areas; from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.signal import savgol_filter

from workbench.records import TransitionDefinition as Definition

Floats = NDArray[np.float64]
__all__ = ["Definition", "Floats", "GlassTransition", "Line", "glass_transition"]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line y = at_0 + slope x, for the construction of a temperature."""

    at_0: float
    slope: float

    def at(self, x: Floats) -> Floats:
        """Return the ordinates at `x`, shape of `x`."""
        return np.asarray(self.at_0 + self.slope * x, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class GlassTransition:
    """The transition by every definition, with the lines it was constructed from.

    Attributes:
        celsius: Temperature in degC for each definition.
        step: Height of the step between the two baselines at the half-height temperature, in the
            ordinate's unit.
        before: Baseline below the transition.
        after: Baseline above the transition.
        tangent: Tangent at the steepest place.
        overshoot: How far the curve goes past the upper baseline, as a fraction of the step:
            physical ageing, which a second heat removes.
    """

    celsius: dict[Definition, float]
    step: float
    before: Line
    after: Line
    tangent: Line
    overshoot: float


def glass_transition(
    celsius: Floats,
    flow: Floats,
    *,
    before: tuple[float, float],
    after: tuple[float, float],
    window: int | None = None,
) -> GlassTransition:
    """Return the glass transition between two straight parts of a DSC curve.

    Args:
        celsius: Temperature in degC, shape (n,), rising.
        flow: Heat flow or heat capacity, shape (n,), in any unit and either direction.
        before: Range of the straight part below the transition, in degC.
        after: Range of the straight part above it, in degC.
        window: Points over which the slope is taken; None takes about a twelfth of the
            transition's range, which leaves the noise of one point in twenty.

    Raises:
        ValueError: The temperatures do not rise, a straight part holds fewer than 3 points, or
            there is no step between the two.
    """
    if len(celsius) != len(flow) or len(celsius) < 10 or np.any(np.diff(celsius) <= 0):
        raise ValueError("`celsius` rises, and has as many points as `flow`, at least 10")
    lower, upper = _fit(celsius, flow, before), _fit(celsius, flow, after)
    between = (celsius >= before[1]) & (celsius <= after[0])
    x, y = celsius[between], flow[between]
    if len(x) < 10:
        raise ValueError("the two straight parts leave fewer than 10 points between them")
    apart = _apart(lower, upper, x)
    if np.max(np.abs(apart)) < 1e-9 * np.max(np.abs(y)):
        raise ValueError("there is no step between the two baselines")
    share = (y - lower.at(x)) / apart
    slope = _slope(x, share, window)
    steepest = int(np.argmax(slope))
    half = _crossing(x, share, 0.5, steepest)
    tangent = _tangent(x, y, steepest, window)
    found = {
        Definition.ONSET: _meet(tangent, lower),
        Definition.HALF_HEIGHT: half,
        Definition.INFLECTION: _top(x, slope, steepest),
        Definition.EQUAL_AREAS: _equal_areas(celsius, flow, lower, upper, before[1], after[0]),
        Definition.END: _meet(tangent, upper),
    }
    step = float(_apart(lower, upper, np.array([half]))[0])
    return GlassTransition(found, step, lower, upper, tangent, float(max(0.0, share.max() - 1)))


def _fit(x: Floats, y: Floats, part: tuple[float, float]) -> Line:
    inside = (x >= part[0]) & (x <= part[1])
    if int(inside.sum()) < 3:
        raise ValueError(f"fewer than 3 points from {part[0]:g} to {part[1]:g} degC")
    slope, at_0 = np.polyfit(x[inside], y[inside], 1)
    return Line(float(at_0), float(slope))


def _apart(lower: Line, upper: Line, x: Floats) -> Floats:
    apart = upper.at(x) - lower.at(x)
    if np.any(apart == 0) or np.any(np.sign(apart) != np.sign(apart[0])):
        raise ValueError("there is no step between the two baselines: they cross or coincide")
    return apart


def _points(x: Floats, window: int | None) -> int:
    wanted = window or max(5, len(x) // 12)
    return min(wanted + 1 - wanted % 2, len(x) - 1 + len(x) % 2)


def _slope(x: Floats, y: Floats, window: int | None) -> Floats:
    step = float(np.mean(np.diff(x)))
    return np.asarray(savgol_filter(y, _points(x, window), 3, deriv=1, delta=step))


def _top(x: Floats, slope: Floats, at: int) -> float:
    """Return where the slope is greatest, between points by a parabola."""
    if not 0 < at < len(x) - 1:
        return float(x[at])
    bend, lean, _ = np.polyfit(x[at - 1 : at + 2] - x[at], slope[at - 1 : at + 2], 2)
    return float(x[at] - lean / (2 * bend)) if bend else float(x[at])


def _tangent(x: Floats, y: Floats, at: int, window: int | None) -> Line:
    reach = max(2, _points(x, window) // 4)
    part = slice(max(0, at - reach), at + reach + 1)
    slope, at_0 = np.polyfit(x[part], y[part], 1)
    return Line(float(at_0), float(slope))


def _meet(one: Line, other: Line) -> float:
    if one.slope == other.slope:
        raise ValueError("the tangent runs along the baseline: there is no step")
    return (other.at_0 - one.at_0) / (one.slope - other.slope)


def _crossing(x: Floats, share: Floats, level: float, near: int) -> float:
    """Return where `share` passes `level` upwards, nearest to the steepest place."""
    up = np.flatnonzero((share[:-1] < level) & (share[1:] >= level))
    if not len(up):
        raise ValueError("the curve does not reach half way between the two baselines")
    at = int(up[np.argmin(np.abs(up - near))])
    part = (level - share[at]) / (share[at + 1] - share[at])
    return float(x[at] + part * (x[at + 1] - x[at]))


def _equal_areas(
    x: Floats, y: Floats, lower: Line, upper: Line, first: float, last: float
) -> float:
    """Return where a step between the baselines has the area of the curve over the lower one."""
    inside = (x >= first) & (x <= last)
    grid = x[inside]
    area = float(np.trapezoid(y[inside] - lower.at(grid), grid))
    fine = np.linspace(grid[0], grid[-1], 20001)
    gap = upper.at(fine) - lower.at(fine)
    steps = (gap[1:] + gap[:-1]) / 2 * np.diff(fine)
    beyond = np.concatenate([np.cumsum(steps[::-1])[::-1], [0.0]])
    return float(np.interp(0.0, *_rising(beyond - area, fine)))


def _rising(values: Floats, at: Floats) -> tuple[Floats, Floats]:
    return (values, at) if values[0] < values[-1] else (values[::-1], at[::-1])
