"""Markers that matplotlib has not, and how points outside a selection fade."""

from typing import Any

import numpy as np
from matplotlib.colors import to_rgb
from matplotlib.path import Path
from numpy.typing import NDArray

FADED = 0.25
"""Opacity of what is not chosen while something is."""

_SHAFT = [(0.0, 0.35), (0.0, 1.0), (-0.18, 0.72), (0.0, 1.0), (0.18, 0.72)]
_CODES = [Path.MOVETO, Path.LINETO, Path.MOVETO, Path.LINETO, Path.LINETO]


def _arrow(across: int, along: int) -> Path:
    """Return an arrow from beside a point outwards, turned by swapping and signing its parts."""
    turned = [(along * y, x) if across else (x, along * y) for x, y in _SHAFT]
    return Path(turned, _CODES)


ARROW_UP, ARROW_DOWN = _arrow(0, 1), _arrow(0, -1)
ARROW_RIGHT, ARROW_LEFT = _arrow(1, 1), _arrow(1, -1)


def faded(colour: str, lit: NDArray[np.bool_]) -> Any:  # noqa: ANN401 - a colour for each point
    """Return `colour` once for each point, faded where the point is not lit."""
    colours = np.empty((lit.size, 4))
    colours[:, :3] = to_rgb(colour)
    colours[:, 3] = np.where(lit, 1.0, FADED)
    return colours
