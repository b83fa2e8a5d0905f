"""Spectra of X-rays in the open form of ISO 22029; its keywords are from memory."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbench.exchange.emsa import is_emsa, read_emsa

HEAD = (
    "#FORMAT      : EMSA/MAS Spectral Data File\n#VERSION     : 1.0\n#TITLE       : face of D\n"
    "#NPOINTS     : {n}\n#NCOLUMNS    : 1.\n#XUNITS      : {unit}\n#YUNITS      : counts\n"
    "#DATATYPE    : {kind}\n#XPERCHAN    : {step}\n#OFFSET      : {offset}\n"
    "#BEAMKV   -kV: 15.0\n#LIVETIME  -s: 60.0\n#SPECTRUM    : Spectral Data Starts Here\n"
)
END = "#ENDOFDATA   :\n"


def a_file(
    numbers: str, *, n: int = 4, unit: str = "keV", kind: str = "Y", step: str = "0.01",
    offset: str = "-0.01", end: str = END,
) -> bytes:  # fmt: skip
    head = HEAD.format(n=n, unit=unit, kind=kind, step=step, offset=offset)
    return f"{head}{numbers}\n{end}".encode()


def test_energies_follow_from_the_offset_and_the_width_of_a_channel() -> None:
    content = a_file("4066., 3996.,\n3932., 3923.,")
    assert is_emsa(content)
    found = read_emsa(content)
    assert found.problems == ()
    assert found.x.tolist() == pytest.approx([-0.01, 0.0, 0.01, 0.02])
    assert found.y.tolist() == [4066, 3996, 3932, 3923]
    assert found.notes[:2] == ("beam 15.0 kV", "live time 60.0 s")


def test_pairs_and_electronvolts_are_read_as_well() -> None:
    found = read_emsa(a_file("100., 4.\n110., 5.", n=2, unit="eV", kind="XY"))
    assert found.x.tolist() == pytest.approx([0.1, 0.11])
    assert found.y.tolist() == [4, 5]


@pytest.mark.parametrize(
    ("content", "words", "hinders"),
    [
        (a_file("1, 2, 3", n=4), "NPOINTS says 4, the table has 3", False),
        (a_file("1, 2, 3, 4", end=""), "no #ENDOFDATA", False),
        (a_file("1, 2, x, 4"), "within the numbers", True),
        (a_file("1, 2, 3, 4", step="0"), "no #XPERCHAN", True),
        (a_file("1, 2, 3, 4", step="0,01"), "is no number", True),
        (a_file("1, 2, 3, 4", unit="nm"), "only eV and keV", True),
        (a_file("1, 2, 3", n=2, kind="XY"), "stands alone", True),
        (a_file(""), "0 numbers", True),
    ],
)
def test_what_is_damaged_is_told(content: bytes, words: str, hinders: bool) -> None:
    found = read_emsa(content)
    assert any(words in p.wrong and p.hinders is hinders for p in found.problems)


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_told(noise: bytes) -> None:
    read_emsa(noise)
    found = read_emsa(a_file("")[: -len(END) - 1] + noise)
    assert found.x.size or found.problems
