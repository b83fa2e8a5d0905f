"""How strong each plane is, from pull-offs that tell only of the weakest one."""

from workbench.analysis.strength.by_plane import strength_by_plane
from workbench.analysis.strength.results import (
    UNTOUCHED,
    Curve,
    Film,
    Group,
    Interval,
    LeftOut,
    LowerBound,
    Method,
    Naive,
    Pull,
    Step,
    StrengthResult,
    StrengthSettings,
)

__all__ = [
    "UNTOUCHED",
    "Curve",
    "Film",
    "Group",
    "Interval",
    "LeftOut",
    "LowerBound",
    "Method",
    "Naive",
    "Pull",
    "Step",
    "StrengthResult",
    "StrengthSettings",
    "strength_by_plane",
]
