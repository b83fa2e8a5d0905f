"""Spectra of X-rays in the open form of ISO 22029 (EMSA/MAS): keywords, then numbers.

The keywords are from memory of the published form: lines `#KEYWORD : value` up to `#SPECTRUM`,
numbers with commas between up to `#ENDOFDATA`.
"""

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from workbench.records import Problem

Floats = NDArray[np.float64]
MOST_POINTS = 1_000_000
_LINE = re.compile(r"#{1,2}\s*([A-Za-z0-9_]+)\s*(?:-([^\s:]+))?\s*:(.*)")
_TO_KEV = {"KEV": 1.0, "EV": 1e-3}
_CLOSE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class EmsaSpectrum:
    """One spectrum of a file.

    Attributes:
        title: Its TITLE.
        labels: Its keywords in capitals, each with its value as written.
        x: Energy in keV, shape (n,).
        y: What was counted, shape (n,).
        notes: What the file says of how it was measured, as sentences.
        problems: What is wrong; one that hinders leaves `x` and `y` empty.
    """

    title: str
    labels: Mapping[str, str]
    x: Floats = field(default_factory=lambda: np.empty(0))
    y: Floats = field(default_factory=lambda: np.empty(0))
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


class _UnfitError(ValueError):
    """What makes a file unfit, and what would be right."""


def is_emsa(content: bytes) -> bool:
    """Return whether bytes begin as a file of the form does."""
    head = content[:4096].lstrip(b"\xef\xbb\xbf \t\r\n").upper()
    return head.startswith(b"#FORMAT") and b"EMSA" in head[:200]


def read_emsa(content: bytes, name: str = "file") -> EmsaSpectrum:
    """Return the spectrum of a file; keywords that disagree with the numbers are told.

    Args:
        content: The bytes of the file.
        name: What the problems call it.
    """
    text = content.decode("utf-8-sig" if content.isascii() else "latin-1", errors="replace")
    labels, units, numbers, ended, told = _parts(re.split("\r\n|\r|\n", text), name)
    title = labels.get("TITLE", "").strip() or name
    try:
        x, y, more = _points(labels, units, numbers, name)
    except _UnfitError as unfit:
        problem = Problem(name, "", str(unfit), "an undamaged file")
        return EmsaSpectrum(title, labels, problems=(*told, problem))
    if not ended:
        wrong = "no #ENDOFDATA"
        more.append(Problem(name, "", wrong, "a complete file", hinders=False))
    return EmsaSpectrum(title, labels, x, y, _notes(labels, units), (*told, *more))


def _parts(
    lines: Iterable[str], name: str
) -> tuple[dict[str, str], dict[str, str], list[tuple[int, float]], bool, list[Problem]]:
    """Return keywords, units in their names, the numbers with their lines, and whether it ends."""
    labels: dict[str, str] = {}
    units: dict[str, str] = {}
    numbers: list[tuple[int, float]] = []
    told: list[Problem] = []
    within = False
    for number, line in enumerate(lines, 1):
        found = _LINE.match(line.strip())
        if found or line.strip().startswith("#"):
            word = (found[1] if found else line.strip("# \t").partition(" ")[0]).upper()
            if word == "ENDOFDATA":
                return labels, units, numbers, True, told
            if within:
                wrong = f"#{word} within the numbers"
                told.append(Problem(name, f"line {number}", wrong, "keywords before #SPECTRUM"))
            within = within or word == "SPECTRUM"
            if found and word not in labels:
                labels[word], units[word] = found[3].strip(), (found[2] or "").strip()
        elif within and line.strip():
            _take(line, number, numbers, told, name)
    return labels, units, numbers, False, told


def _take(
    line: str, number: int, numbers: list[tuple[int, float]], told: list[Problem], name: str
) -> None:
    for cell in re.split(r"[,\s]+", line.strip().strip(",")):
        try:
            value = float(cell)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            wrong = f"“{cell[:20]}” within the numbers"
            told.append(Problem(name, f"line {number}", wrong, "numbers with commas between"))
            return
        numbers.append((number, value))


def _points(
    labels: Mapping[str, str],
    units: Mapping[str, str],
    numbers: list[tuple[int, float]],
    name: str,
) -> tuple[Floats, Floats, list[Problem]]:
    if "SPECTRUM" not in labels:
        raise _UnfitError("no #SPECTRUM, so there are no numbers")
    if not 2 <= len(numbers) <= MOST_POINTS:
        raise _UnfitError(f"{len(numbers):,} numbers after #SPECTRUM")
    to_kev = _unit(labels, units)
    values = np.array([value for _, value in numbers], dtype=np.float64)
    pairs = labels.get("DATATYPE", "Y").strip().upper().startswith("XY")
    if pairs and len(values) % 2:
        raise _UnfitError("DATATYPE is XY, and a last number stands alone")
    said = _number(labels, "NPOINTS")
    count = len(values) // 2 if pairs else len(values)
    told: list[Problem] = []
    if said is not None and said != count:
        wrong = f"NPOINTS says {said:g}, the table has {count}"
        told.append(Problem(name, "", wrong, "agreement", hinders=False))
    if pairs:
        return values[::2] * to_kev, values[1::2], told
    step, first = _number(labels, "XPERCHAN"), _number(labels, "OFFSET")
    if not step:
        raise _UnfitError("no #XPERCHAN, so nothing says where the points lie")
    if first is None:
        told.append(Problem(name, "", "no #OFFSET, taken as 0", "#OFFSET", hinders=False))
    channels = np.arange(count, dtype=np.float64)
    x: Floats = ((first or 0.0) + step * channels) * to_kev
    return x, values, told


def _unit(labels: Mapping[str, str], units: Mapping[str, str]) -> float:
    """Return what makes the abscissa keV, by XUNITS or by the unit in the name of XPERCHAN."""
    said = labels.get("XUNITS", "").strip() or units.get("XPERCHAN", "")
    factor = _TO_KEV.get(said.strip("()[] ").upper())
    if factor is None:
        raise _UnfitError(f"XUNITS says “{said}”; only eV and keV are read")
    return factor


def _number(labels: Mapping[str, str], word: str) -> float | None:
    text = labels.get(word, "").strip()
    if not text:
        return None
    try:
        value = float(text.split()[0])
    except ValueError as wrong:
        raise _UnfitError(f"#{word} says “{text}”, which is no number") from wrong
    if not math.isfinite(value):
        raise _UnfitError(f"#{word} says “{text}”, which is no finite number")
    return value


def _notes(labels: Mapping[str, str], units: Mapping[str, str]) -> tuple[str, ...]:
    wanted = (
        ("BEAMKV", "beam", "kV"), ("LIVETIME", "live time", "s"), ("REALTIME", "real time", "s"),
        ("PROBECUR", "beam current", "nA"), ("SIGNALTYPE", "signal", ""), ("DATE", "date", ""),
        ("COMMENT", "comment", ""),
    )  # fmt: skip
    return tuple(
        f"{words} {labels[word]} {units.get(word) or unit}".strip()
        for word, words, unit in wanted
        if labels.get(word)
    )
