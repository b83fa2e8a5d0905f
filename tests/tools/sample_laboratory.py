"""Make the invented curves of the sample case's laboratory.

Run from the top of a checkout: `PYTHONPATH=tests python -m tools.sample_laboratory`. The spectra of
S-01, S-02 and S-04 and the thermograms of S-02 and S-04 are older and stay as they are.
"""

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from workbench.analysis.xray import xray_elements
from workbench.exchange.jcamp import read_jcamp

Floats = NDArray[np.float64]
FOLDER = Path(__file__).parents[2] / "sample_cases" / "bottling-hall-floor" / "lab"
INVENTED = "sample case, invented"
POLYSTYRENE_BANDS = (
    (698.1, 1.1, 5.0), (757.0, 0.7, 5.0), (842.1, 0.07, 5.0), (906.8, 0.18, 4.0),
    (1028.3, 0.3, 4.5), (1069.1, 0.14, 5.0), (1154.5, 0.1, 4.5), (1181.2, 0.07, 5.0),
    (1371.4, 0.13, 7.0), (1452.1, 0.6, 5.0), (1492.8, 0.75, 4.0), (1583.0, 0.13, 3.0),
    (1601.2, 0.5, 3.5), (1745.0, 0.07, 8.0), (1802.5, 0.08, 8.0), (1870.5, 0.09, 8.0),
    (1942.9, 0.1, 8.0), (2849.5, 0.5, 8.0), (2923.6, 0.9, 10.0), (3001.0, 0.18, 6.0),
    (3026.1, 0.7, 7.0), (3060.0, 0.45, 7.0), (3082.0, 0.28, 6.0),
)  # fmt: skip
"""Position in 1/cm, height and half width: positions of the pharmacopoeias, the rest invented."""


def main() -> None:
    """Write the files."""
    sound = read_jcamp((FOLDER / "s-04-control-seal-coat.jdx").read_bytes()).blocks[0]
    for name, title, size, seed in (
        ("s-08-control-seal-coat", "S-08, seal coat of the control core", 0.94, 8),
        ("s-09-reference-seal-coat", "S-09, retained Seal AP cast on foil", 1.07, 9),
    ):
        noise = np.random.default_rng(seed).normal(0, 0.0008, len(sound.y))
        _write_spectrum(name, f"{title} - invented spectrum", sound.x, size * sound.y + noise)
    x = np.arange(450.0, 4002.0, 2.0)
    film = sum(h * w**2 / ((x - at) ** 2 + w**2) for at, h, w in POLYSTYRENE_BANDS)
    noise = np.random.default_rng(10).normal(0, 0.0008, len(x))
    _write_spectrum("polystyrene-film", "polystyrene film - invented", x, film + 0.01 + noise)
    _write_thermograms()
    _write_xrays()


def _write_spectrum(name: str, title: str, x: Floats, y: Floats) -> None:
    whole = np.round(y / 1e-4).astype(int)
    step = float(x[1] - x[0])
    rows = [
        " ".join([f"{x[n]:.0f}", *(str(v) for v in whole[n : n + 8])])
        for n in range(0, len(x), 8)
    ]  # fmt: skip
    head = (
        f"##TITLE={title}\n##JCAMP-DX=4.24\n##DATA TYPE=INFRARED SPECTRUM\n##ORIGIN={INVENTED}\n"
        "##OWNER=public domain\n##XUNITS=1/CM\n##YUNITS=ABSORBANCE\n##RESOLUTION=4\n"
        f"##XFACTOR=1.0\n##YFACTOR=0.0001\n##FIRSTX={x[0]:.0f}\n##LASTX={x[-1]:.0f}\n"
        f"##DELTAX={step:.0f}\n##NPOINTS={len(x)}\n##FIRSTY={whole[0] * 1e-4:.4f}\n"
        "##XYDATA=(X++(Y..Y))\n"
    )
    text = head + "\n".join(rows) + "\n##END=\n"
    (FOLDER / f"{name}.jdx").write_text(text, "utf-8")


def _write_thermograms() -> None:
    celsius = np.arange(0.0, 200.0, 0.5)
    _write_thermogram(
        "seal-ap-fresh-dsc", "fresh mixture of Seal AP 4:1; 10 K/min", celsius,
        lambda t: -0.20 - 0.0006 * t + 0.25 * np.exp(-(((t - 96) / 20) ** 2)), seed=11,
    )  # fmt: skip
    celsius = np.arange(20.0, 150.0, 0.4)
    _write_thermogram(
        "polystyrene-dsc", "check with polystyrene; second heat; 10 K/min", celsius,
        lambda t: -0.18 - 0.0007 * t - 0.06 / (1 + np.exp(-(t - 107.4) / 1.8)), seed=12,
    )  # fmt: skip
    celsius = np.arange(140.0, 175.0, 0.02)
    _write_thermogram("indium-dsc", "check with indium; 10 K/min", celsius, _indium, seed=13)


def _indium(celsius: Floats) -> Floats:
    """Return a leading edge as straight as a melting metal gives, and the tail after it."""
    onset, slope, top, tail = 156.65, -2.2, 158.35, 0.42
    edge = np.clip(celsius - onset, 0, top - onset) * slope
    fall = (top - onset) * slope * np.exp(-np.clip(celsius - top, 0, None) / tail)
    return np.asarray(-0.15 + np.where(celsius <= top, edge, fall), dtype=np.float64)


def _write_thermogram(
    name: str, about: str, celsius: Floats, flow: Callable[[Floats], Floats], *, seed: int
) -> None:
    noise = np.random.default_rng(seed).normal(0, 0.0005, len(celsius))
    rows = (f"{t:.2f},{v:.4f}" for t, v in zip(celsius, flow(celsius) + noise, strict=True))
    head = (
        f"# invented thermogram; {about}; endotherm down\ntemperature degC,heat flow second W/g\n"
        if "second" in about
        else f"# invented thermogram; {about}; endotherm down\ntemperature degC,heat flow W/g\n"
    )
    (FOLDER / f"{name}.csv").write_text(head + "\n".join(rows) + "\n", "utf-8")


def _write_xrays() -> None:
    shares = (("C", 900), ("O", 1100), ("Al", 60), ("Si", 210), ("Ti", 760), ("Ca", 30))
    for name, title, sodium, seed in (
        ("s-02-back-of-seal-coat", "S-02, back of the seal coat (C/D@D)", 6, 14),
        ("s-04-seal-coat", "S-04, seal coat (bulk D)", 60, 15),
    ):
        _write_xray(name, title, (*shares, ("Na", sodium)), seed)


def _write_xray(name: str, title: str, heights: Sequence[tuple[str, float]], seed: int) -> None:
    kev = np.arange(-10, 1014) * 0.01
    counts = 55 * np.exp(-kev / 3.2) * (kev > 0.15) + 900 * np.exp(-((kev / 0.03) ** 2))
    for symbol, height in heights:
        for line, at in xray_elements()[symbol].lines.items():
            part = {"Ka": 1.0, "Kb": 0.14, "La": 0.12}.get(line, 0.05)
            width = np.sqrt(0.0009 + 0.00045 * at)
            counts = counts + height * part * np.exp(-((kev - at) ** 2) / (2 * width**2))
    drawn = np.random.default_rng(seed).poisson(np.clip(counts, 0, None))
    rows = (", ".join(f"{v}." for v in drawn[n : n + 8]) + "," for n in range(0, len(drawn), 8))
    head = (
        f"#FORMAT      : EMSA/MAS Spectral Data File\n#VERSION     : 1.0\n#TITLE       : {title}\n"
        f"#OWNER       : {INVENTED}\n#NPOINTS     : {len(drawn)}.\n#NCOLUMNS    : 1.\n"
        "#XUNITS      : keV\n#YUNITS      : counts\n#DATATYPE    : Y\n#XPERCHAN    : 0.01\n"
        "#OFFSET      : -0.1\n#SIGNALTYPE  : EDS\n#BEAMKV   -kV: 15.0\n#LIVETIME  -s: 60.0\n"
        "#SPECTRUM    : Spectral Data Starts Here\n"
    )  # fmt: skip
    text = head + "\n".join(rows) + "\n#ENDOFDATA   : End Of Data and File\n"
    (FOLDER / f"{name}.emsa").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
