"""The axis of temperatures of an instrument that reads in °C, for readers of either system."""

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import ArrayLike, NDArray

from workbench.figures.look import Look
from workbench.trade.showing import TEMPERATURE, System

Floats = NDArray[np.float64]


def temperature_axis(axes: Axes, look: Look) -> None:
    """Name the axis in °C; where the reader has °F, put a scale of them above the drawing."""
    axes.set_xlabel("temperature, °C")
    if look.showing.system is System.SI:
        return
    above = axes.secondary_xaxis("top", functions=(_in_f, _in_c))
    above.set_xlabel("temperature, °F", fontsize=look.note_pt, color=look.scheme.muted)
    above.tick_params(labelsize=look.note_pt, colors=look.scheme.muted)
    above.spines["top"].set_color(look.scheme.muted)


def at_words(look: Look, celsius: float) -> str:
    """Return a temperature as the reader has it."""
    return look.showing.value(TEMPERATURE, celsius)


def _in_f(celsius: ArrayLike) -> Floats:
    return 1.8 * np.asarray(celsius, dtype=np.float64) + 32


def _in_c(fahrenheit: ArrayLike) -> Floats:
    return (np.asarray(fahrenheit, dtype=np.float64) - 32) / 1.8
