"""The curves in an original, whatever form it has."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from workbench.analysis.spectra.spectrum import Spectrum, rising, told_by_data
from workbench.analysis.thermal.segments import ramps_of
from workbench.desk.laboratory.abscissae import Abscissa, abscissa_among, abscissa_of
from workbench.exchange.curves import CurveTable, read_curves
from workbench.exchange.emsa import is_emsa, read_emsa
from workbench.exchange.jcamp import JcampBlock, read_jcamp
from workbench.records import CurveKind, Problem

Original = Callable[[str], Path | None]
"""Gives the file of an original by the name that records use."""
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class FileCurve:
    """One curve of a file.

    Attributes:
        part: Title of its block, or heading of its column, with the ramp where there are several.
        kind: What it was measured by, as the abscissa's unit says.
        curve: Abscissa and ordinate, rising.
        ordinate: Heading or unit of the ordinate, as written.
        heating: Whether the temperature rose; None for what is no thermogram.
    """

    part: str
    kind: CurveKind
    curve: Spectrum
    ordinate: str = ""
    heating: bool | None = None


@dataclass(frozen=True, slots=True, eq=False)
class FileCurves:
    """The curves of a file, what it says before them, and what is wrong with it."""

    curves: tuple[FileCurve, ...] = ()
    preamble: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def curves_in(path: Path, name: str) -> FileCurves:
    """Return the curves of a JCAMP-DX, EMSA/MAS, CSV or xlsx file that records call `name`.

    Raises:
        OSError: The file cannot be read.
    """
    content = path.read_bytes()
    if b"##TITLE" in content[:4096].upper().replace(b" ", b""):
        return _from_jcamp(content, name)
    if is_emsa(content):
        return _from_emsa(content, name)
    return _from_table(read_curves(content, name), name)


def _from_emsa(content: bytes, name: str) -> FileCurves:
    file = read_emsa(content, name)
    problems = list(file.problems)
    if any(problem.hinders for problem in problems):
        return FileCurves((), file.notes, file.problems)
    counted = file.labels.get("YUNITS", "counts")
    made = _made(file.title, Abscissa(CurveKind.ELEMENTS), file.x, file.y, counted, name, problems)
    return FileCurves(tuple(made), file.notes, tuple(problems))


def _from_jcamp(content: bytes, name: str) -> FileCurves:
    file = read_jcamp(content, name)
    problems = list(file.problems)
    curves: list[FileCurve] = []
    said: list[str] = []
    for block in file.blocks:
        if block.form in ("XYDATA", "XYPOINTS"):
            curves += _of_block(block, name, problems)
            said += [
                text for word in ("SAMPLEDESCRIPTION", "SAMPLINGPROCEDURE", "COMMENTS")
                if (text := block.labels.get(word, "").strip())
            ]  # fmt: skip
        elif block.form:
            wrong = f"a table of the form {block.form} is no curve"
            problems.append(Problem(name, f"“{block.title}”", wrong, "XYDATA", hinders=False))
    if not curves and not problems:
        problems.append(Problem(name, "", "no curve in it", "XYDATA or XYPOINTS"))
    return FileCurves(_named_apart(curves), tuple(said), tuple(problems))


def _of_block(block: JcampBlock, name: str, problems: list[Problem]) -> Iterator[FileCurve]:
    unit, about = block.labels.get("XUNITS", ""), block.labels.get("DATATYPE", "")
    abscissa = abscissa_of(unit, about)
    said = block.labels.get("YUNITS", "")
    yield from _made(block.title, abscissa, block.x, block.y, said, name, problems)


def _named_apart(curves: list[FileCurve]) -> tuple[FileCurve, ...]:
    """Return curves so named that none is called as another is: the second "S-01" is "S-01 (2)"."""
    seen: dict[str, int] = {}
    named = []
    for one in curves:
        seen[one.part] = seen.get(one.part, 0) + 1
        part = one.part if seen[one.part] == 1 else f"{one.part} ({seen[one.part]})"
        named.append(FileCurve(part, one.kind, one.curve, one.ordinate, one.heating))
    return tuple(named)


def _from_table(table: CurveTable, name: str) -> FileCurves:
    said = tuple(one.lstrip("# ") for one in table.preamble)
    if not table.readable:
        return FileCurves((), said, table.problems)
    problems = list(table.problems)
    curves: list[FileCurve] = []
    about = f"{' '.join(said)} {' '.join(table.headings)}"
    choice = abscissa_among(table.headings, about)
    for column in choice.aside:
        wrong = f"the column “{table.headings[column]}” is no curve"
        right = f"it is left aside; the abscissa is “{table.headings[choice.column]}”"
        problems.append(Problem(name, "", wrong, right, hinders=False))
    x = table.columns[:, choice.column]
    for column in choice.ordinates:
        heading = table.headings[column]
        y = np.asarray(table.columns[:, column])
        curves += _made(heading, choice.abscissa, x, y, heading, name, problems)
    return FileCurves(_named_apart(curves), said, tuple(problems))


def _made(
    part: str,
    abscissa: Abscissa,
    x: Floats,
    y: Floats,
    ordinate: str,
    name: str,
    problems: list[Problem],
) -> Iterator[FileCurve]:
    """Return a curve, or one for each ramp of a temperature programme; tell what is none."""
    if abscissa.told:
        problems.append(Problem(name, part, abscissa.told, "check one value", hinders=False))
    known = np.isfinite(x) & np.isfinite(y)
    x = abscissa.turned(x)
    if abscissa.kind is not CurveKind.THERMOGRAM:
        if curve := _rising(part, x, y, ordinate, name, problems):
            infrared = abscissa.kind is CurveKind.INFRARED
            curve = told_by_data(curve) if infrared else curve
            yield FileCurve(part, abscissa.kind, curve, ordinate)
        return
    places = np.flatnonzero(known)
    for ramp in ramps_of(x[known]) if len(places) else ():
        inside = places[ramp.first : ramp.last]
        called = ", ".join(filter(None, (part, ramp.name)))
        if curve := _rising(called, x[inside], y[inside], ordinate, name, problems):
            yield FileCurve(called, abscissa.kind, curve, ordinate, ramp.heating)


def _rising(
    part: str, x: Floats, y: Floats, ordinate: str, name: str, problems: list[Problem]
) -> Spectrum | None:
    try:
        return rising(part, x, y, ordinate)
    except ValueError as wrong:
        problems.append(Problem(name, f"“{part}”", str(wrong), "two points or more"))
        return None
