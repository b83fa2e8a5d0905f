"""2,000 readings: estimates, comparisons, pattern and figures against the bare numerical calls.

    python -m pytest tests/benchmarks/bench_strength.py -s

The floor is measured in the same run: the two likelihoods of every plane and condition on the same
grid, written in plain numpy and scipy over all its readings, with nothing around them, and the
same points scattered on bare axes.
"""

import io
import sys
import time
from collections.abc import Callable

import numpy as np
import pytest
from builders import dossier, make
from matplotlib.figure import Figure
from scipy.special import log_ndtr
from tools.paper import report_size

from workbench.analysis.comparison.between_conditions import compare_measured
from workbench.analysis.comparison.measured import measured_in
from workbench.analysis.strength import StrengthResult, strength_by_plane
from workbench.figures.adhesion_plan import draw_adhesion_plan
from workbench.figures.adhesion_stack import draw_adhesion_stack
from workbench.records import Area, Coat, Dossier, Location, PullOff, Rating, Record
from workbench.records.codes import Condition

READINGS = 2_000
MOST_SECONDS, MOST_TIMES_FLOOR = 2.0, 3.0
PLANES = ("A", "A/B", "B", "B/C", "C", "C/D", "D")
CONDITIONS = tuple(Condition)[:4]


def large_case() -> Dossier:
    """Return a case of 2,000 pull-offs in sixteen areas under four conditions."""
    rng = np.random.default_rng(3)
    records: list[Record] = [
        make(Coat, order=order, material="epoxy" if order else "concrete", product=f"P{order}")
        for order in range(4)
    ]
    for at in range(16):
        x, y = 10 * (at % 4), 10 * (at // 4)
        outline = f"{x} {y}; {x + 10} {y}; {x + 10} {y + 10}; {x} {y + 10}"
        condition = CONDITIONS[at % 4]
        records.append(make(Area, ref=f"A{at}", condition=condition, system="S", outline=outline))
    for at in range(READINGS):
        area = at % 16
        east, north = 10 * (area % 4 + rng.random()), 10 * (area // 4 + rng.random())
        records.append(
            make(Location, ref=f"L{at}", area=f"A{area}", x=f"{east:.2f}", y=f"{north:.2f}")
        )
        strength = np.exp(rng.normal(np.log((3, 4, 5, 4, 5, 1.5 if area % 4 == 0 else 4, 5)), 0.3))
        weakest = int(strength.argmin())
        share = 10 * int(rng.integers(3, 11))
        breaks = f"{PLANES[weakest]} {share}" + (f"; Y {100 - share}" if share < 100 else "")
        records.append(
            make(PullOff, ref=f"P{at}", location=f"L{at}", fixture="20 mm", breaks=breaks,
                 reading=f"{strength[weakest]:.3f} MPa", date=f"2024-05-{1 + at % 5:02d}")
        )  # fmt: skip
        if at % 4 == 0:
            rating = str(2 * int(rng.integers(0, 6)))
            records.append(make(Rating, ref=f"R{at}", location=f"L{at}", rating=rating))
    return dossier(*records)


def seconds(work: Callable[[], object]) -> float:
    """Return the least of three runs, as time of this process, whatever else the machine does."""
    runs = []
    for _ in range(3):
        start = time.process_time()
        work()
        runs.append(time.process_time() - start)
    return min(runs)


def bare_numbers(result: StrengthResult) -> None:
    """Do the bare numerical work of the estimates: two likelihoods per group on the same grid."""
    stress = {pull.source: pull.mpa for pull in result.pulls}
    for group in result.groups:
        x = np.log([stress[source] for source in group.sources])
        broke = np.linspace(0, 1, x.size)
        m = np.linspace(x.mean() - 1, x.mean() + 2, 121)[:, None, None]
        s = np.exp(np.linspace(np.log(0.06), np.log(1.5), 41))[None, :, None]
        z = (x - m) / s
        lognormal = (broke * (-(z**2) / 2 - np.log(s)) + (1 - broke) * log_ndtr(-z)).sum(axis=2)
        hazard = np.exp(np.minimum(1.28255 * z, 600))
        weibull = (broke * (1.28255 * z - np.log(s)) - hazard).sum(axis=2)
        for likelihood in (lognormal, weibull):
            mass = np.exp(likelihood - likelihood.max())
            mass.sum(axis=1).cumsum()


def bare_points(result: StrengthResult) -> None:
    """Draw as many points as the figures do on bare axes."""
    figure = Figure(figsize=report_size(140))
    axes = figure.subplots()
    x = np.array([pull.mpa for pull in result.pulls])
    for _ in range(2 * len(PLANES) + 1):
        axes.scatter(x, np.arange(x.size), s=20, c=x)
    figure.savefig(io.BytesIO(), dpi=100)


def figures(case: Dossier, result: StrengthResult) -> None:
    """Draw and store both figures."""
    for draw in (draw_adhesion_plan, draw_adhesion_stack):
        figure = Figure(figsize=report_size(140))
        draw(figure, case, result)
        figure.savefig(io.BytesIO(), dpi=100)


@pytest.fixture(scope="module")
def case() -> Dossier:
    return large_case()


def test_two_thousand_readings_are_done_in_time(case: Dossier) -> None:
    result = strength_by_plane(case)
    assert len(result.pulls) == READINGS
    estimates = seconds(lambda: strength_by_plane(case))
    measured = seconds(lambda: compare_measured(measured_in(case)))
    drawn = seconds(lambda: figures(case, result))
    floor = seconds(lambda: bare_numbers(result)), seconds(lambda: bare_points(result))
    whole, least = estimates + measured + drawn, sum(floor)
    sys.stdout.write(
        f"\nestimates and comparisons {estimates:.2f} s, measured {measured:.2f} s, figures "
        f"{drawn:.2f} s: {whole:.2f} s, {whole / least:.2f} times the floor "
        f"({floor[0]:.2f} s numbers, {floor[1]:.2f} s points)\n"
    )
    assert whole < MOST_SECONDS
    assert whole < MOST_TIMES_FLOOR * least
