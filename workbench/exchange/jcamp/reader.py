"""A JCAMP-DX file into blocks: labels, points, and what disagrees within it."""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from workbench.analysis.spectra.spectrum import Floats, Spectrum, rising
from workbench.exchange.jcamp.ordinates import DamagedTableError, Ordinates, decode, pairs
from workbench.records import Problem

MOST_BYTES = 50_000_000
_MOST = 1e100
_ASTRAY = 0.05
"""Share of the lines that may stand elsewhere than the header says, and share of the range by which
they may, before nothing says any more where the points lie."""
_TABLES = ("XYDATA", "XYPOINTS", "PEAKTABLE", "PEAKASSIGNMENTS", "RADATA")
_UNREAD = ("NTUPLES", "DATATABLE")


_READ = "XYDATA (X++(Y..Y)), XYPOINTS or PEAK TABLE (XY..XY)"


class UnreadFormError(DamagedTableError):
    """A table of a form that is not read, damaged or not."""


@dataclass(frozen=True, slots=True, eq=False)
class JcampBlock:
    """One block of a file.

    Attributes:
        title: Its TITLE.
        labels: Its labelled records, names without space, -, / and _, in capitals.
        form: The table it holds: XYDATA, XYPOINTS, PEAKTABLE …; empty where it has none.
        x: Abscissa after XFACTOR, shape (n,), in the order of the file.
        y: Ordinate after YFACTOR, shape (n,); NaN where the file says "?".
    """

    title: str
    labels: dict[str, str]
    form: str = ""
    x: Floats = field(default_factory=lambda: np.empty(0))
    y: Floats = field(default_factory=lambda: np.empty(0))


@dataclass(frozen=True, slots=True)
class JcampFile:
    """The blocks of a file in their order, and the problems found while reading."""

    blocks: tuple[JcampBlock, ...]
    problems: tuple[Problem, ...]


def read_jcamp(content: bytes, name: str = "file") -> JcampFile:
    """Return the blocks of a JCAMP-DX file.

    Headers that disagree with the data are warnings; a table that cannot be read is a problem,
    and its block is left out: nothing is guessed.

    Args:
        content: The bytes of the file.
        name: What the problems call it.
    """
    if len(content) > MOST_BYTES:
        wrong = f"{len(content):,} bytes"
        return JcampFile((), (Problem(name, "", wrong, f"a file under {MOST_BYTES:,} bytes"),))
    blocks: list[JcampBlock] = []
    problems: list[Problem] = []
    for raw in _raw_blocks(content, name, problems):
        block = _block(raw, name, problems)
        if block is not None:
            blocks.append(block)
    if not blocks and not problems:
        problems.append(Problem(name, "", "no ##TITLE= in it", "a JCAMP-DX file"))
    return JcampFile(tuple(blocks), tuple(problems))


def spectrum_of(block: JcampBlock) -> Spectrum:
    """Return the spectrum of a block, its abscissa rising.

    Raises:
        ValueError: The block holds fewer than two points.
    """
    return rising(block.title, block.x, block.y, block.labels.get("YUNITS", ""))


@dataclass(slots=True)
class _Raw:
    title: str
    line: int
    labels: dict[str, str] = field(default_factory=dict)
    form: str = ""
    table: list[tuple[int, str]] = field(default_factory=list)


def _lines(content: bytes) -> Iterator[tuple[int, str]]:
    text = (
        content.decode("utf-8-sig", errors="replace")
        if content.isascii()
        else (content.decode("latin-1"))
    )
    text = text.split("\x1a", 1)[0]
    for number, line in enumerate(re.split("\r\n|\r|\n", text), 1):
        yield number, line.split("$$", 1)[0].rstrip()


def _raw_blocks(content: bytes, name: str, problems: list[Problem]) -> list[_Raw]:
    done: list[_Raw] = []
    open_blocks: list[_Raw] = []
    label = ""
    for number, line in _lines(content):
        found = re.match(r"\s*##\s*([^=]*)=(.*)", line)
        if not found:
            if open_blocks and line.strip():
                _continue(open_blocks[-1], label, number, line)
            continue
        label, value = re.sub(r"[\s\-/_]", "", found[1]).upper(), found[2].strip()
        if label == "TITLE":
            block = _Raw(value, number)
            open_blocks.append(block)
            done.append(block)
        elif label == "END":
            if open_blocks:
                open_blocks.pop()
        elif not open_blocks:
            wrong = f"##{found[1].strip()}= outside any block"
            problems.append(Problem(name, f"line {number}", wrong, "##TITLE= first", hinders=False))
        else:
            _label(open_blocks[-1], label, value, number, name, problems)
    problems += [
        Problem(
            name, f"line {b.line}", f"“{b.title}” has no ##END=", "a complete file", hinders=False
        )
        for b in open_blocks
    ]
    return done


def _continue(block: _Raw, label: str, number: int, line: str) -> None:
    if label == block.form and label in (*_TABLES, *_UNREAD):
        block.table.append((number, line))
    elif label in block.labels:
        block.labels[label] += "\n" + line.strip()


def _label(
    block: _Raw, label: str, value: str, number: int, name: str, problems: list[Problem]
) -> None:
    if block.form == "NTUPLES":
        return
    if label in (*_TABLES, *_UNREAD):
        if block.form:
            wrong = f"a second table in “{block.title}”"
            problems.append(Problem(name, f"line {number}", wrong, "one table to a block"))
            block.form = "DAMAGED"
            return
        block.form = label
    elif label in block.labels:
        wrong = f"##{label}= stands twice in “{block.title}”"
        problems.append(Problem(name, f"line {number}", wrong, "one of each", hinders=False))
        return
    block.labels[label] = value


def _block(raw: _Raw, name: str, problems: list[Problem]) -> JcampBlock | None:
    if not raw.form:
        return JcampBlock(raw.title, raw.labels)
    if raw.form == "DAMAGED":
        return None
    try:
        x, y = _points(raw, name, problems)
    except DamagedTableError as damage:
        right = _READ if isinstance(damage, UnreadFormError) else "an undamaged file"
        problems.append(Problem(name, f"“{raw.title}”", str(damage), right))
        return None
    return JcampBlock(raw.title, raw.labels, raw.form, x, y)


def _points(raw: _Raw, name: str, problems: list[Problem]) -> tuple[Floats, Floats]:
    shape = re.sub(r"\s", "", raw.labels[raw.form]).upper()
    x_factor, y_factor = _factor(raw, "XFACTOR"), _factor(raw, "YFACTOR")
    if raw.form == "XYDATA" and shape.startswith("(X++(Y..Y"):
        found = decode(raw.table)
        _refuse_decimal_commas(raw, len(found.values))
        y = _scaled(np.array(found.values, dtype=np.float64), y_factor, "YFACTOR")
        _tell_checks(raw, found, name, problems)
        return _abscissae(raw, found, x_factor, name, problems), y
    if raw.form in ("XYPOINTS", "PEAKTABLE", "XYDATA") and shape.startswith("(XY..XY"):
        points = np.array(pairs(raw.table), dtype=np.float64).reshape(-1, 2)
        _tell_count(raw, len(points), name, problems)
        x = _scaled(points[:, 0], x_factor, "XFACTOR")
        return x, _scaled(points[:, 1], y_factor, "YFACTOR")
    raise UnreadFormError(f"a table of the form {raw.form} {shape} is not read")


def _refuse_decimal_commas(raw: _Raw, count: int) -> None:
    """Refuse a table of twice the points announced whose numbers have commas and no point.

    Raises:
        DamagedTableError: It is one.
    """
    if count != 2 * _number(raw, "NPOINTS", 0):
        return
    words = " ".join(line for _, line in raw.table)
    if "." not in words and re.search(r"\d,\d", words):
        raise DamagedTableError("commas stand within numbers, where the form has points")


def _scaled(values: Floats, factor: float, label: str) -> Floats:
    """Return numbers times their factor; refuse one that leaves no finite number.

    Raises:
        DamagedTableError: It does.
    """
    with np.errstate(over="ignore", invalid="ignore"):
        scaled = np.asarray(values * factor, dtype=np.float64)
    if np.isinf(scaled).any() or np.any(np.abs(scaled[np.isfinite(scaled)]) > _MOST):
        raise DamagedTableError(f"##{label}= says {factor:g}, which makes numbers beyond measure")
    return scaled


def _factor(raw: _Raw, label: str) -> float:
    value = _number(raw, label, 1.0)
    if value == 0:
        raise DamagedTableError(f"##{label}= says 0, which leaves nothing of the numbers")
    return value


def _number(raw: _Raw, label: str, default: float) -> float:
    text = raw.labels.get(label, "").strip()
    if not text:
        return default
    try:
        value = float(text.split()[0])
    except ValueError as wrong:
        raise DamagedTableError(f"##{label}= says “{text}”, which is no number") from wrong
    if not math.isfinite(value) or abs(value) > _MOST:
        raise DamagedTableError(f"##{label}= says “{text}”, which is no number to measure with")
    return value


def _abscissae(
    raw: _Raw, found: Ordinates, x_factor: float, name: str, problems: list[Problem]
) -> Floats:
    """Return x by the header and not by the table, whose own are rounded; the lines must agree.

    Where points were lost at the end, FIRSTX, LASTX and NPOINTS still give the right step.
    """
    count = len(found.values)
    scales = _scales(raw, found, x_factor)
    starts = np.array([at for _, at in found.line_starts])
    written = np.array([value for value, _ in found.line_starts]) * x_factor
    kept = starts < count
    starts, written = starts[kept], written[kept]
    off = [_astray(scale, starts, written, x_factor) for scale in scales]
    best = min(range(len(scales)), key=lambda n: int(np.count_nonzero(off[n])))
    first, step = scales[best]
    if bad := int(np.count_nonzero(off[best])):
        gaps = np.where(off[best], np.abs(written - first - step * starts), 0.0)
        at = int(np.argmax(gaps))
        due = first + step * starts[at]
        wrong = f"a line stands at {written[at]:g} where the header makes it {due:g}"
        far = gaps[at] > _ASTRAY * abs(step) * (count - 1)
        if far and bad > _ASTRAY * len(starts):
            raise DamagedTableError(f"{wrong}; {bad} of {len(starts)} lines are astray")
        _warn(raw, name, problems, f"{wrong} ({bad} of {len(starts)} lines)")
    elif best:
        end = first + step * (count - 1)
        _warn(raw, name, problems, f"the table ends at {end:g}, LASTX says {raw.labels['LASTX']}")
    return np.asarray(first + step * np.arange(count), dtype=np.float64)


def _scales(raw: _Raw, found: Ordinates, x_factor: float) -> list[tuple[float, float]]:
    """Return first abscissa and step as the header may mean them, the most likely first."""
    count = len(found.values)
    at_line = found.line_starts[0][0] * x_factor if found.line_starts else 0.0
    first = _number(raw, "FIRSTX", at_line)
    scales: list[tuple[float, float]] = []
    if "LASTX" in raw.labels:
        whole = _number(raw, "LASTX", 0) - first
        said = _number(raw, "NPOINTS", count)
        scales += [(first, whole / (n - 1)) for n in dict.fromkeys((count, said)) if n > 1]
    step = _number(raw, "DELTAX", math.nan)
    if math.isfinite(step):
        scales.append((first, step))
    if scales or count < 2:
        return scales or [(first, 0.0)]
    (x0, i0), (x1, i1) = found.line_starts[0], found.line_starts[-1]
    if i1 == i0:
        raise DamagedTableError("neither FIRSTX and LASTX nor DELTAX say where the points lie")
    return [(first, (x1 - x0) * x_factor / (i1 - i0))]


def _astray(
    scale: tuple[float, float],
    starts: NDArray[np.intp],
    written: Floats,
    x_factor: float,
) -> NDArray[np.bool_]:
    """Return which lines stand farther from where they should than rounding explains."""
    first, step = scale
    due = first + step * starts
    rough = 0.6 * max(abs(x_factor), abs(step)) + 1e-6 * float(np.max(np.abs(due), initial=0.0))
    return np.asarray(np.abs(written - due) > rough)


def _tell_checks(raw: _Raw, found: Ordinates, name: str, problems: list[Problem]) -> None:
    for number in found.failed_checks:
        wrong = "the repeated ordinate differs from the last one of the line before"
        problems.append(Problem(name, f"line {number}", wrong, "an undamaged table", hinders=False))
    _tell_count(raw, len(found.values), name, problems)
    known = [value for value in found.values if not math.isnan(value)]
    if "FIRSTY" in raw.labels and known and not math.isnan(found.values[0]):
        said, read = _number(raw, "FIRSTY", 0), found.values[0] * _number(raw, "YFACTOR", 1)
        if not _agree(said, read, raw.labels["FIRSTY"]):
            _warn(raw, name, problems, f"FIRSTY says {said:g}, the table starts with {read:g}")
    if known:
        _tell_extremes(raw, np.array(known) * _number(raw, "YFACTOR", 1), name, problems)


def _agree(said: float, read: float, text: str) -> bool:
    # decimals are often cut off instead of rounded
    digit = (1.0 if "." in text else 0.6) * _last_digit(text)
    return abs(said - read) <= max(1e-3 * abs(read), digit, 1e-12)


def _tell_extremes(raw: _Raw, y: Floats, name: str, problems: list[Problem]) -> None:
    """Tell where the greatest or least ordinate is not that of the header."""
    for label, read in (("MAXY", float(y.max())), ("MINY", float(y.min()))):
        text = raw.labels.get(label, "").strip()
        said = _number(raw, label, read)
        rough = max(abs(_number(raw, "YFACTOR", 1)), 1e-3 * float(np.ptp(y)))
        if abs(said - read) > rough and not _agree(said, read, text or "0"):
            _warn(raw, name, problems, f"{label} says {said:g}, the table has {read:g}")


def _last_digit(text: str) -> float:
    """Return the worth of the last digit written: 0.01 for "2.98", 1e-8 for "2.98E-06"."""
    mantissa, _, exponent = text.split(maxsplit=1)[0].upper().partition("E")
    decimals = len(mantissa.partition(".")[2])
    return 10.0 ** (int(exponent or 0) - decimals)


def _tell_count(raw: _Raw, count: int, name: str, problems: list[Problem]) -> None:
    said = _number(raw, "NPOINTS", count)
    if said != count:
        _warn(raw, name, problems, f"NPOINTS says {said:g}, the table has {count}")


def _warn(raw: _Raw, name: str, problems: list[Problem], wrong: str) -> None:
    problems.append(Problem(name, f"“{raw.title}”", wrong, "agreement", hinders=False))
