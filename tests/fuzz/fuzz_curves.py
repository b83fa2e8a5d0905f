"""Throws anything at the readers of curves: no crash, no hang.

    mkdir found
    python tests/fuzz/fuzz_curves.py -max_total_time=300 found tests/exchange/jcamp_files

Run by hand; needs atheris (`pip install atheris`), which is no dependency of the project. What it
finds goes into the first folder.
"""

import sys

import atheris  # type: ignore[import-untyped,unused-ignore]  # installed by who runs this

with atheris.instrument_imports():
    from workbench.exchange.curves import read_curves
    from workbench.exchange.emsa import read_emsa
    from workbench.exchange.jcamp import read_jcamp, spectrum_of


def one_input(data: bytes) -> None:
    """Read `data` as every form; what cannot be read is told as a problem, never raised."""
    for block in read_jcamp(data).blocks:
        try:
            spectrum = spectrum_of(block)
        except ValueError:
            continue
        spectrum.absorbance()
    read_emsa(data)
    if not data.startswith(b"PK"):
        read_curves(data)


if __name__ == "__main__":
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()
