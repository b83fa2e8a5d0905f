"""The calculators of the trade: declared once, for the window and for `workbench compute`.

Import them when they are asked for: the units behind them are not needed to open the window.
"""

from collections.abc import Mapping
from types import MappingProxyType

from workbench.desk.calculators import (
    adhesion,
    air,
    concrete,
    films,
    laboratory,
    mixing,
    ratings,
    sampling,
)
from workbench.desk.calculators.frame import (
    Calculation,
    Calculator,
    CalculatorError,
    Found,
    Input,
    calculate,
)

__all__ = [
    "CALCULATORS",
    "Calculation",
    "Calculator",
    "CalculatorError",
    "Found",
    "Input",
    "calculate",
    "calculator",
]

CALCULATORS: Mapping[str, Calculator] = MappingProxyType(
    {
        one.name: one
        for room in (air, adhesion, ratings, concrete, films, mixing, laboratory, sampling)
        for one in room.CALCULATORS
    }
)
"""Every calculator by its name, in the order shown."""


def calculator(name: str) -> Calculator:
    """Return the calculator called `name`.

    Raises:
        CalculatorError: There is none.
    """
    try:
        return CALCULATORS[name]
    except KeyError:
        raise CalculatorError(
            f"there is no calculator “{name}”; there are {', '.join(CALCULATORS)}"
        ) from None
