"""Areas and onsets of a thermogram: residual exotherm, and the checks with indium."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.analysis.thermal.glass_transition import Line

Floats = NDArray[np.float64]
INDIUM_MELTING_C = 156.5985
"""ITS-90 fixed point (from memory); 156.60 READ."""
INDIUM_FUSION_J_G = 28.6624
"""Archer and Rudtsch, J. Chem. Eng. Data 48 (2003) 1157 (READ)."""


@dataclass(frozen=True, slots=True)
class Event:
    """A peak of a thermogram over the straight line between its ends.

    Attributes:
        onset_c: Where the steepest tangent of the leading side meets the baseline, in degC.
        top_c: Where the peak is farthest from the baseline, in degC.
        area: Area over the baseline in the ordinate's unit times kelvin; with the ordinate in W/g
            and the heating rate in K/s, `area / rate` is J/g. Its sign is the curve's.
        baseline: The line between the ends.
    """

    onset_c: float
    top_c: float
    area: float
    baseline: Line

    def energy_j_g(self, rate_k_min: float) -> float:
        """Return the energy in J/g of a curve in W/g heated at `rate_k_min` kelvin a minute.

        Raises:
            ValueError: The rate is not above 0.
        """
        if rate_k_min <= 0:
            raise ValueError("`rate_k_min` lies above 0")
        return self.area / (rate_k_min / 60)


def event(celsius: Floats, flow: Floats, *, first: float, last: float) -> Event:
    """Return the peak between `first` and `last` over the straight line that joins them.

    Args:
        celsius: Temperature in degC, shape (n,), rising.
        flow: Heat flow, shape (n,).
        first: Start of the peak in degC, on the baseline.
        last: End of the peak in degC, on the baseline.

    Raises:
        ValueError: Fewer than 5 points lie between the ends, or nothing stands off the line.
    """
    inside = (celsius >= first) & (celsius <= last)
    x, y = celsius[inside], flow[inside]
    if len(x) < 5:
        raise ValueError("fewer than 5 points between the ends of the peak")
    slope = float((y[-1] - y[0]) / (x[-1] - x[0]))
    baseline = Line(float(y[0] - slope * x[0]), slope)
    over = y - baseline.at(x)
    top = int(np.argmax(np.abs(over)))
    if over[top] == 0 or top == 0:
        raise ValueError("nothing stands off the line between the ends")
    rise = np.diff(over[: top + 1]) / np.diff(x[: top + 1]) * np.sign(over[top])
    at = int(np.argmax(rise))
    steep = float(rise[at] * np.sign(over[top]))
    onset = float((x[at] + x[at + 1]) / 2 - (over[at] + over[at + 1]) / 2 / steep)
    return Event(onset, float(x[top]), float(np.trapezoid(over, x)), baseline)


def conversion_from_exotherm(residual_j_g: float, total_j_g: float) -> float:
    """Return the degree of cure from the exotherm left and that of the fresh mixture, in J/g.

    Raises:
        ValueError: The total is not above 0, or the residual lies outside 0 to the total.
    """
    if total_j_g <= 0 or not 0 <= residual_j_g <= total_j_g:
        raise ValueError("`residual_j_g` lies between 0 and `total_j_g`, which lies above 0")
    return 1 - residual_j_g / total_j_g
