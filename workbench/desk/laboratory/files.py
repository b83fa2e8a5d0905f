"""The curves in an original, whatever form it has."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from workbench.analysis.spectra.spectrum import Spectrum, rising
from workbench.exchange.curves import CurveTable, read_curves
from workbench.exchange.jcamp import JcampBlock, read_jcamp, spectrum_of
from workbench.records import CurveKind, Problem

Original = Callable[[str], Path | None]
"""Gives the file of an original by the name that records use."""

_ZERO_C_IN_K = 273.15
_THERMAL = ("TEMPERATURE", "CELSIUS", "KELVIN", "DEGC", "°C")


@dataclass(frozen=True, slots=True, eq=False)
class FileCurve:
    """One curve of a file.

    Attributes:
        part: Title of its block, or heading of its column.
        kind: What it was measured by, as the abscissa's unit says.
        curve: Abscissa and ordinate, rising.
    """

    part: str
    kind: CurveKind
    curve: Spectrum


@dataclass(frozen=True, slots=True, eq=False)
class FileCurves:
    """The curves of a file, what it says before them, and what is wrong with it."""

    curves: tuple[FileCurve, ...] = ()
    preamble: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    def called(self, part: str, kind: CurveKind) -> FileCurve | None:
        """Return the curve of a part, or the first of the kind where `part` is blank."""
        fits = [one for one in self.curves if one.kind in (kind, CurveKind.OTHER)]
        named = [one for one in fits if not part or one.part == part]
        return named[0] if named else None


def curves_in(path: Path, name: str) -> FileCurves:
    """Return the curves of a JCAMP-DX, CSV or xlsx file that records call `name`.

    Raises:
        OSError: The file cannot be read.
    """
    content = path.read_bytes()
    if b"##TITLE" in content[:4096].upper().replace(b" ", b""):
        return _from_jcamp(content, name)
    return _from_table(read_curves(content, name), name)


def _from_jcamp(content: bytes, name: str) -> FileCurves:
    file = read_jcamp(content, name)
    problems = list(file.problems)
    curves = []
    for block in file.blocks:
        if block.form not in ("XYDATA", "XYPOINTS"):
            continue
        try:
            curves.append(_curve_of(block))
        except ValueError as wrong:
            problems.append(Problem(name, f"“{block.title}”", str(wrong), "two points or more"))
    return FileCurves(tuple(curves), (), tuple(problems))


def _curve_of(block: JcampBlock) -> FileCurve:
    unit, said = block.labels.get("XUNITS", ""), block.labels.get("DATATYPE", "")
    kind = _kind(f"{unit} {said}")
    if kind is CurveKind.THERMOGRAM and unit.strip().upper() in ("K", "KELVIN"):
        x = block.x - _ZERO_C_IN_K
        return FileCurve(
            block.title, kind, rising(block.title, x, block.y, block.labels.get("YUNITS", ""))
        )
    return FileCurve(block.title, kind, spectrum_of(block))


def _kind(words: str) -> CurveKind:
    said = words.upper()
    if any(word in said for word in (*_THERMAL, "THERMOGRAM", "DSC")):
        return CurveKind.THERMOGRAM
    if any(word in said for word in ("1/CM", "CM-1", "CM^-1", "WAVENUMBER", "INFRARED")):
        return CurveKind.INFRARED
    return CurveKind.ELEMENTS if "KEV" in said else CurveKind.OTHER


def _from_table(table: CurveTable, name: str) -> FileCurves:
    if not table.readable:
        return FileCurves((), table.preamble, table.problems)
    x, problems, curves = table.columns[:, 0], list(table.problems), []
    kind = _kind(table.headings[0])
    for column, heading in enumerate(table.headings[1:], 1):
        try:
            curve = rising(heading, x, np.asarray(table.columns[:, column]), heading)
        except ValueError as wrong:
            problems.append(Problem(name, heading, str(wrong), "two rows or more"))
            continue
        curves.append(FileCurve(heading, kind, curve))
    said = tuple(one.lstrip("# ") for one in table.preamble if one != " ".join(table.headings))
    return FileCurves(tuple(curves), said, tuple(problems))
