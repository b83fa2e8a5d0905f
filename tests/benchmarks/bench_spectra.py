"""A spectrum of 4,000 points read, corrected, picked and drawn; fifty overlaid.

    python -m pytest tests/benchmarks/bench_spectra.py -s

The floor is measured in the same run: numpy reading the same numbers, scipy solving the same
banded systems and finding peaks, matplotlib drawing the same bare lines.
"""

import io
import time
from collections.abc import Callable

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from scipy.linalg import solveh_banded
from scipy.signal import find_peaks

from workbench.analysis.laboratory.spectra import LabSpectrum, corrected
from workbench.analysis.spectra.peaks import pick
from workbench.analysis.spectra.spectrum import Spectrum
from workbench.exchange.jcamp import read_jcamp, spectrum_of
from workbench.figures.spectra import Trace, draw_spectra
from workbench.records.codes import Condition

POINTS, OVERLAID = 4000, 50
MOST_SECONDS, MOST_SECONDS_OVERLAID = 0.3, 1.0
BANDS = ((829, 0.5), (1036, 0.4), (1245, 1.0), (1508, 0.8), (1730, 0.6), (2965, 0.4), (3400, 0.3))


def content() -> bytes:
    """Return a spectrum of 4,000 points as a JCAMP-DX file."""
    x = np.linspace(400, 4399, POINTS)
    noise = np.random.default_rng(7).normal(0, 0.002, POINTS)
    y = sum(h / (1 + ((x - at) / 9) ** 2) for at, h in BANDS) + 2e-5 * x + noise
    whole = np.round(np.asarray(y) * 1e5).astype(int)
    rows = "\n".join(
        f"{x[n]:.0f} " + " ".join(map(str, whole[n : n + 8])) for n in range(0, POINTS, 8)
    )
    return (
        "##TITLE=bench\n##JCAMP-DX=4.24\n##DATA TYPE=INFRARED SPECTRUM\n##XUNITS=1/CM\n"
        "##YUNITS=ABSORBANCE\n##XFACTOR=1\n##YFACTOR=1E-5\n##FIRSTX=400\n##LASTX=4399\n"
        f"##NPOINTS={POINTS}\n##XYDATA=(X++(Y..Y))\n{rows}\n##END=\n"
    ).encode()


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """Return the shortest of several runs, the first of which warms up."""
    took = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        took.append(time.perf_counter() - before)
    return min(took)


def drawn(traces: list[Trace], spectra: list[Spectrum]) -> None:
    figure = Figure(figsize=(7, 4), dpi=100)
    canvas = FigureCanvasAgg(figure)
    draw_spectra(figure, traces, peaks=pick(spectra[0]))
    canvas.draw()  # type: ignore[no-untyped-call]


def whole_way(file: bytes) -> None:
    of = LabSpectrum(spectrum=spectrum_of(read_jcamp(file).blocks[0]), file="bench")
    level = corrected(of.spectrum)
    drawn([Trace(level, "bench", Condition.FAILING)], [level])


def bare(file: bytes, lines: int) -> None:
    """Do the same with the libraries alone."""
    table = file.partition(b"(X++(Y..Y))\n")[2].partition(b"##")[0]
    y = np.loadtxt(io.BytesIO(table))[:, 1:].ravel() * 1e-5
    bands = np.ones((3, len(y)))
    bands[0], bands[1], bands[2] = 1e6, -4e6, 6e6 + 1
    for _ in range(8):
        solveh_banded(bands, y)
    find_peaks(y, prominence=0.02)
    figure = Figure(figsize=(7, 4), dpi=100)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_subplot()
    for n in range(lines):
        axes.plot(y + n)
    canvas.draw()  # type: ignore[no-untyped-call]


def show(what: str, took: float, floor: float) -> None:
    print(f"{what}: {took:.3f} s; bare {floor:.3f} s; {took / floor:.2f} times")  # noqa: T201


def test_a_spectrum_is_read_corrected_picked_and_drawn_at_once() -> None:
    file = content()
    took = seconds(lambda: whole_way(file))
    show(f"{POINTS} points", took, seconds(lambda: bare(file, 1)))
    assert took < MOST_SECONDS


def test_fifty_spectra_are_overlaid_without_lag() -> None:
    file = content()
    level = corrected(spectrum_of(read_jcamp(file).blocks[0]))
    traces = [Trace(level, f"S-{n}", Condition.FAILING) for n in range(OVERLAID)]
    took = seconds(lambda: drawn(traces, [level]))
    show(f"{OVERLAID} spectra", took, seconds(lambda: bare(file, OVERLAID)))
    assert took < MOST_SECONDS_OVERLAID
