"""How often the intervals of a plane's strength hold the truth; run by hand, some minutes.

    python tests/benchmarks/simulate_coverage.py [DATA SETS PER CELL]

Each pull loads the plane under study (strength T) and all others at once (the weakest, C): the
reading is min(T, C), exact where T < C and else a lower bound. T and C follow the same law; C is
moved so that it wins with the stated probability. A came-away bound of 0.2 MPa lies far below the
true median of 3 MPa. Coverage is over data sets in which the plane broke at least once; the others
get a lower bound, whose error is told apart. The table goes to `coverage.csv`, and a summary of it
to `coverage.md`.
"""

import csv
import sys
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, fields
from itertools import product
from pathlib import Path

import numpy as np
from scipy.optimize import brentq
from scipy.stats import t as student

from workbench.analysis.strength.bounds import envelope
from workbench.analysis.strength.evidence import Evidence
from workbench.analysis.strength.likelihood import second_opinion
from workbench.analysis.strength.posterior import SPREAD_OF_WEIBULL, posterior_of
from workbench.analysis.strength.study import ends_of_median

MEDIAN_MPA, SMALLEST_MPA = 3.0, 0.2
LAWS, SPREADS = ("lognormal", "weibull"), (0.25, 0.50)
BOUNDS, PULLS = (0.2, 0.5, 0.8), (3, 5, 8, 12)
SEED = 4624
HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What was found in one cell.

    Attributes:
        law: Law of the strengths.
        spread: Standard deviation of ln strength.
        bounds: Share of readings that are lower bounds.
        pulls: Pulls in a data set.
        data_sets: Data sets simulated.
        with_break: Of these, with a break of the plane.
        coverage: Share of 95 % intervals of the default estimator that hold the true median.
        bias: Median of the estimates over the true median, less 1.
        lower_error: Share of all with a break whose one-sided 95 % lower limit is too high.
        width: Median of upper over lower end.
        second_coverage: The same coverage for the second opinion, where there is one.
        naive_coverage: Of the mean of all readings with its t interval.
        naive_bias: Median of the means over the true median, less 1.
        bound_error: Share of all data sets that have no break and whose bound is too high.
    """

    law: str
    spread: float
    bounds: float
    pulls: int
    data_sets: int
    with_break: int
    coverage: float
    bias: float
    lower_error: float
    width: float
    second_coverage: float
    naive_coverage: float
    naive_bias: float
    bound_error: float


def strengths(
    rng: np.random.Generator, law: str, median: float, spread: float, size: tuple[int, int]
) -> np.ndarray:
    """Return strengths drawn from a law with that median and spread of ln strength."""
    if law == "lognormal":
        return np.asarray(median * np.exp(spread * rng.standard_normal(size)))
    shape = SPREAD_OF_WEIBULL / spread
    return np.asarray(median * (rng.exponential(size=size) / np.log(2)) ** (1 / shape))


def median_of_others(law: str, spread: float, bounds: float) -> float:
    """Return the median of C for which C < T with probability `bounds`."""
    rng = np.random.default_rng(SEED)
    one, other = (strengths(rng, law, MEDIAN_MPA, spread, (1, 400_000)) for _ in range(2))

    def excess(ln_factor: float) -> float:
        return float((other * np.exp(ln_factor) < one).mean()) - bounds

    return MEDIAN_MPA * float(np.exp(brentq(excess, -5, 5, xtol=1e-4)))


def simulate(task: tuple[str, float, float, int, int]) -> Cell:
    """Return what is found in one cell."""
    law, spread, bounds, pulls, data_sets = task
    rng = np.random.default_rng(
        [SEED, LAWS.index(law), int(100 * spread), int(100 * bounds), pulls]
    )
    own = strengths(rng, law, MEDIAN_MPA, spread, (data_sets, pulls))
    others_median = median_of_others(law, spread, bounds)
    others = strengths(rng, law, others_median, spread, (data_sets, pulls))
    readings = np.minimum(own, others)
    broke = (own < others) & (readings >= SMALLEST_MPA)
    away = (own < others) & (readings < SMALLEST_MPA)
    silent = (own >= others) & (readings < SMALLEST_MPA)
    told = np.maximum(readings, SMALLEST_MPA)
    estimates, bound_errors = [], 0
    for x, b, a, s in zip(told, broke, away, silent, strict=True):
        if not (b.any() or a.any()):
            bound_errors += envelope(x[~s], 0.95) > MEDIAN_MPA if (~s).any() else 0
        else:
            estimates.append(_estimate(x[~s], b[~s], a[~s]))
    return _cell(task, np.array(estimates, float), bound_errors)


def _estimate(x: np.ndarray, broke: np.ndarray, away: np.ndarray) -> tuple[float, ...]:
    evidence = Evidence.of(x, broke.astype(float), away.astype(float))
    median, low, high, at_least = ends_of_median(posterior_of(evidence), evidence, 0.95)
    second = second_opinion(evidence, 0.95)
    ends = (second.low_mpa or 0.0, second.high_mpa or np.inf) if second else (np.nan, np.nan)
    mean, error = float(x.mean()), float(x.std(ddof=1)) / np.sqrt(x.size) if x.size > 1 else np.inf
    half = float(student.ppf(0.975, max(x.size - 1, 1))) * error
    return median, low, high, at_least, *ends, mean, mean - half, mean + half


def _cell(task: tuple[str, float, float, int, int], found: np.ndarray, bound_errors: int) -> Cell:
    law, spread, bounds, pulls, data_sets = task
    median, low, high, at_least, second_low, second_high, mean, mean_low, mean_high = found.T

    def holds(lower: np.ndarray, upper: np.ndarray) -> float:
        told = ~np.isnan(lower)
        inside = (lower[told] <= MEDIAN_MPA) & (upper[told] >= MEDIAN_MPA)
        return float(inside.mean()) if told.any() else float("nan")

    return Cell(
        law=law,
        spread=spread,
        bounds=bounds,
        pulls=pulls,
        data_sets=data_sets,
        with_break=len(found),
        coverage=holds(low, high),
        bias=float(np.median(median)) / MEDIAN_MPA - 1,
        lower_error=float((at_least > MEDIAN_MPA).mean()),
        width=float(np.median(high / low)),
        second_coverage=holds(second_low, second_high),
        naive_coverage=holds(mean_low, mean_high),
        naive_bias=float(np.median(mean)) / MEDIAN_MPA - 1,
        bound_error=bound_errors / data_sets,
    )


def summary(cells: list[Cell]) -> Iterable[str]:
    """Return the lines of the summary."""
    coverage = np.array([cell.coverage for cell in cells])
    many = [cell for cell in cells if cell.pulls >= 5]
    yield "# Coverage of the strength of a plane\n"
    yield f"{cells[0].data_sets} data sets per cell, {len(cells)} cells, written by"
    yield "`simulate_coverage.py`; every cell is in `coverage.csv`.\n"
    yield f"- Default estimator, nominal 95 %: mean {coverage.mean():.3f}, worst cell"
    yield f"  {coverage.min():.3f}, best {coverage.max():.3f}."
    worst = max(many, key=lambda cell: abs(cell.bias))
    largest = max(abs(bias) for (_, pulls), bias in _biases(cells).items() if pulls >= 5)
    yield f"- Bias of the median from 5 pulls on: at most {largest:.1%} as the mean of a row;"
    yield f"  {abs(worst.bias):.1%} in the worst single cell ({worst.law}, spread {worst.spread:g},"
    yield f"  {worst.bounds:.0%} bounds, {worst.pulls} pulls), where the interval still covers"
    yield f"  {worst.coverage:.1%}."
    naive = np.array([cell.naive_coverage for cell in cells])
    yield f"- Mean of all readings: coverage mean {naive.mean():.3f}, worst {naive.min():.3f}."
    errors = max(cell.bound_error for cell in cells)
    yield f"- Lower bound where none broke: too high in at most {errors:.1%} of data sets.\n"
    yield "| bounds | pulls | coverage | worst law | bias | naive coverage | naive bias |"
    yield "|---|---|---|---|---|---|---|"
    for bounds, pulls in product(BOUNDS, PULLS):
        row = [cell for cell in cells if (cell.bounds, cell.pulls) == (bounds, pulls)]
        numbers = (
            np.mean([c.coverage for c in row]), min(c.coverage for c in row),
            np.mean([c.bias for c in row]), np.mean([c.naive_coverage for c in row]),
            np.mean([c.naive_bias for c in row]),
        )  # fmt: skip
        told = "{:.3f} | {:.3f} | {:+.3f} | {:.3f} | {:+.3f}".format(*numbers)
        yield f"| {bounds:.0%} | {pulls} | {told} |"


def _biases(cells: list[Cell]) -> dict[tuple[float, int], float]:
    """Return the bias by bounds and pulls, as the mean over laws and spreads."""
    return {
        (bounds, pulls): float(
            np.mean([c.bias for c in cells if (c.bounds, c.pulls) == (bounds, pulls)])
        )
        for bounds, pulls in product(BOUNDS, PULLS)
    }


def main() -> None:
    """Simulate every cell and write the table."""
    data_sets = int(sys.argv[1]) if len(sys.argv) > 1 else 2_000
    tasks = [(*cell, data_sets) for cell in product(LAWS, SPREADS, BOUNDS, PULLS)]
    with ProcessPoolExecutor() as pool:
        cells = list(pool.map(simulate, tasks))
    with (HERE / "coverage.csv").open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(field.name for field in fields(Cell))
        for cell in cells:
            values = (getattr(cell, field.name) for field in fields(Cell))
            writer.writerow(f"{v:.4f}" if isinstance(v, float) else v for v in values)
    (HERE / "coverage.md").write_text("\n".join(summary(cells)) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
