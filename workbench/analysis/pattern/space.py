"""Are near places alike, how far lie they from a thing, and where may a value be drawn between."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay, QhullError, cKDTree
from scipy.spatial.distance import cdist

from workbench.analysis.comparison.ranks import Shift, rank_test, shift
from workbench.analysis.pattern.results import SpatialDependence
from workbench.analysis.strength.results import Pull
from workbench.records import Dossier, Location

Floats = NDArray[np.float64]

_PERMUTATIONS = 999
FEWEST_PLACES = 12
"""Places needed before anything is said of dependence, or a surface drawn."""
_NEIGHBOURS = 4


def moran(values: Floats, weights: Floats) -> float:
    """Return Moran's I of `values` for weights of shape (n, n) with an empty diagonal.

    References:
        Moran, Biometrika 37 (1950) 17; Cliff and Ord, Spatial Processes (1981).
    """
    z = values - values.mean()
    return float(values.size / weights.sum() * (z @ weights @ z) / (z @ z))


def near_weights(places: Floats, neighbours: int = _NEIGHBOURS) -> Floats:
    """Return weights of equal size to each place's nearest neighbours, rows summing to 1."""
    count = places.shape[0]
    near = np.asarray(cKDTree(places).query(places, min(neighbours + 1, count))[1])
    weights = np.zeros((count, count))
    for at, row in enumerate(near):
        others = [other for other in row if other != at][:neighbours]
        weights[at, others] = 1 / len(others)
    return weights


def dependence(places: Floats, values: Floats, *, seed: int = 0) -> SpatialDependence | None:
    """Return whether near places are alike; None with fewer places than `FEWEST_PLACES`.

    Args:
        places: Coordinates in metres, shape (n, 2).
        values: One value per place.
        seed: Of the permutations.
    """
    if values.size < FEWEST_PLACES or float(np.ptp(values)) == 0:
        return None
    weights = near_weights(places)
    z = values - values.mean()
    observed = float(z @ weights @ z)
    rng = np.random.default_rng(seed)
    drawn = rng.permuted(np.tile(z, (_PERMUTATIONS, 1)), axis=1)
    at_least = int((((drawn @ weights) * drawn).sum(axis=1) >= observed - 1e-12).sum())
    return SpatialDependence(
        moran=moran(values, weights),
        expected=-1 / (values.size - 1),
        p=(at_least + 1) / (_PERMUTATIONS + 1),
        places=values.size,
        neighbours=_NEIGHBOURS,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """The readings of pull-offs at their places: what the weakest plane bore there.

    Attributes:
        places: Coordinates in metres, shape (n, 2); those of one spot are averaged.
        mpa: Mean reading at each place.
    """

    places: Floats
    mpa: Floats


def readings_at(dossier: Dossier, pulls: Sequence[Pull]) -> Readings:
    """Return the readings of `pulls` on untouched film that have a place."""
    at: dict[tuple[float, float], list[float]] = {}
    for pull in pulls:
        location = dossier.find(Location, pull.location)
        if pull.film.untouched and location and location.x and location.y:
            at.setdefault((location.x.value, location.y.value), []).append(pull.mpa)
    return Readings(
        places=np.array(list(at), float).reshape(-1, 2),
        mpa=np.array([sum(read) / len(read) for read in at.values()]),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearness:
    """Whether failing places lie nearer to a thing drawn on the plan than the others.

    Attributes:
        thing: What it is, in words.
        shift: Distance of failing less that of the others, in metres, with its interval.
        p: Two-sided exact p of the rank sum; None where one side is empty.
        failing: Failing places.
        others: The others.
    """

    thing: str
    shift: Shift
    p: float | None
    failing: int
    others: int


def nearness(
    thing: str, line: Sequence[tuple[float, float]], failing: Floats, others: Floats
) -> Nearness | None:
    """Return whether `failing` places lie nearer to a line or point than `others`; None if empty.

    Args:
        thing: What is drawn, in words.
        line: Its points in metres; one for a point.
        failing: Places of shape (n, 2), in metres.
        others: The places that do not fail.
    """
    if not (failing.size and others.size):
        return None
    near, far = (distances_to(line, places) for places in (failing, others))
    tested = rank_test(near, far)
    return Nearness(
        thing=thing,
        shift=shift(near, far),
        p=tested.p if tested else None,
        failing=near.size,
        others=far.size,
    )


def distances_to(line: Sequence[tuple[float, float]], places: Floats) -> Floats:
    """Return how far each place lies from a line of points, in metres."""
    points = np.asarray(line, float)
    if len(points) == 1:
        return np.asarray(np.hypot(*(places - points[0]).T), np.float64)
    starts, along = points[:-1], np.diff(points, axis=0)
    length = np.maximum((along**2).sum(axis=1), 1e-12)
    from_start = places[:, None, :] - starts[None, :, :]
    at = np.clip((from_start * along).sum(axis=2) / length, 0, 1)
    apart = from_start - at[..., None] * along
    return np.asarray(np.sqrt((apart**2).sum(axis=2)).min(axis=1), np.float64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """Values drawn between places.

    Attributes:
        x: Columns in metres.
        y: Rows in metres.
        values: Value at each row and column.
        defensible: Whether a place is near enough, and between others, to draw it at all.
    """

    x: Floats
    y: Floats
    values: Floats
    defensible: NDArray[np.bool_]


def between_readings(dossier: Dossier, pulls: Sequence[Pull]) -> Surface | None:
    """Return what `pulls` bore, drawn between their places where near places read alike.

    Bounds count as they were read. None where it is not defensible.
    """
    read = readings_at(dossier, pulls)
    return surface(read.places, read.mpa, dependence(read.places, read.mpa))


def surface(
    places: Floats, values: Floats, found: SpatialDependence | None, *, steps: int = 80
) -> Surface | None:
    """Return values between places, or None where near places are not shown to be alike.

    Inverse distance squared, of all places. It is defensible inside the places' hull and no
    farther from one than twice the usual distance between neighbours.

    References:
        Inverse-distance weights: Isaaks and Srivastava, Applied Geostatistics (1989), chapter 11.
    """
    if found is None or found.p >= 0.05:
        return None
    try:
        hull = Delaunay(places)
    except QhullError:
        return None
    (x0, y0), (x1, y1) = places.min(axis=0), places.max(axis=0)
    x, y = np.linspace(x0, x1, steps), np.linspace(y0, y1, steps)
    grid = np.stack(np.meshgrid(x, y), axis=-1)
    tree = cKDTree(places)
    usual = float(np.median(np.asarray(tree.query(places, 2)[0])[:, 1]))
    near = tree.query(grid)[0] <= 2 * usual
    return Surface(
        x=x,
        y=y,
        values=inverse_distance(places, values, grid.reshape(-1, 2)).reshape(steps, steps),
        defensible=near & (hull.find_simplex(grid) >= 0),
    )


def inverse_distance(places: Floats, values: Floats, at: Floats, power: float = 2.0) -> Floats:
    """Return the mean of `values` at points `at`, weighted by distance to minus `power`."""
    found = []
    for some in np.array_split(at, math.ceil(at.shape[0] * places.shape[0] / _MOST_AT_ONCE)):
        weights = np.maximum(cdist(some, places, "sqeuclidean"), 1e-18) ** (-power / 2)
        found.append((weights @ values) / weights.sum(axis=1))
    return np.concatenate(found)


_MOST_AT_ONCE = 1_000_000
