"""Small words of the report: dates, lists, counts, and codes as a person says them."""

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from workbench.records import Breaks, Coat, Dossier, Plane, When
from workbench.trade.names import spoken
from workbench.trade.register import NOT_FROM_A_TEST, register

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
NO_BREAK = "\u00a0"
_SQUARE = re.compile(r"(\d) ?(k?m|mm|cm|ft|in)2\b")
_PER_SQUARE = re.compile(r"\b(g|mg|ug)/(c?m)2\b")
_PLAIN_UNITS = re.compile(r"(?<=\d) ?(deg[CF]|um)\b")
_PRINTED = {"degC": "°C", "degF": "°F", "um": "µm"}
_SMALL = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
          "eleven", "twelve")  # fmt: skip


def day(when: date | datetime) -> str:
    """Return a day in words: "12 November 2024"."""
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}"


def moment(when: When | None, unknown: str = "not known") -> str:
    """Return a moment as precisely as it was recorded; what is unknown says so."""
    if when is None:
        return unknown
    start = when.start()
    if when.precision == "year":
        return str(start.year)
    if when.precision == "month":
        return f"{_MONTHS[start.month - 1]} {start.year}"
    said = day(start)
    return said if when.precision == "day" else f"{said}, {start:%H:%M}"


def short_moment(when: When | None, unknown: str = "not known") -> str:
    """Return a moment for a table, on one line: "12 Nov 2024 14:05"."""
    if when is None:
        return unknown
    start = when.start()
    month = _MONTHS[start.month - 1][:3]
    said = {"year": f"{start.year}", "month": f"{month} {start.year}"}.get(
        when.precision, f"{start.day} {month} {start.year}"
    )
    said = said.replace(" ", NO_BREAK)
    return f"{said} {start:%H:%M}" if when.precision == "time" else said


def span(moments: Iterable[When | None]) -> str:
    """Return the days from the first to the last of the moments known."""
    known = sorted({when.day() for when in moments if when})
    if not known:
        return "on a date not recorded"
    if len(known) == 1:
        return f"on {day(known[0])}"
    return f"between {day(known[0])} and {day(known[-1])}"


def listed(words: Sequence[str], last: str = "and") -> str:
    """Return words as a list in a sentence: "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def number_word(count: int) -> str:
    """Return a small number as a word, a larger one in figures."""
    return _SMALL[count] if 0 <= count < len(_SMALL) else str(count)


def counted(count: int, one: str, many: str = "") -> str:
    """Return a count with its noun: "three pull-offs", "one area", "36 ratings"."""
    return f"{number_word(count)} {one if count == 1 else many or f'{one}s'}"


def sentence(words: str) -> str:
    """Return words with a capital at their start and a full stop at their end."""
    bare = words.strip()
    if not bare:
        return ""
    ended = bare if bare[-1] in ".!?" else f"{bare}."
    return ended[0].upper() + ended[1:]


def method_name(method: str) -> str:
    """Return what a `method` column means: the name of the test and its standard."""
    if method in NOT_FROM_A_TEST:
        return {"record": "from a record", "calculation": "calculated"}.get(method, "not stated")
    test = register().get(method)
    if test is None:
        return method
    return f"{test.name} ({test.standard})" if test.standard else test.name


def method_title(method: str) -> str:
    """Return the name of a test without its standard."""
    test = register().get(method)
    return test.name if test else method_name(method)


def short_title(method: str) -> str:
    """Return the name of a test without what it covers: "Polished cross-section"."""
    return _COVERS.split(method_title(method), maxsplit=1)[0]


_COVERS = re.compile(r":| \(| of both | with and ")


def breaks_in_words(breaks: Breaks | None, dossier: Dossier, system: Iterable[Coat]) -> str:
    """Return where a test broke, each plane in words with its share as it was recorded."""
    if breaks is None:
        return "not recorded"
    layers = tuple(system)
    said = []
    for share in breaks.shares:
        plane = dossier.plane_name(share.plane, layers) if share.plane else "plane not given"
        amount = "share not given" if share.percent is None else f"{share.percent:g} %"
        said.append(f"{plane}: {amount}")
    return "; ".join(said)


def plane_first(plane: Plane, dossier: Dossier, system: Iterable[Coat]) -> str:
    """Return a plane with its words before its letters: "Body SF to Seal AP (C/D)"."""
    code, _, words = dossier.plane_name(plane, system).partition(", ")
    return f"{words} ({code})"


def coat_words(coat: Coat | None) -> str:
    """Return what a layer is called: its product, else its material."""
    if coat is None:
        return "a coat not named"
    return coat.product or spoken(coat.material)


def spoken_layer(layer: str) -> str:
    """Return what a layer of thickness is called where no coat has its number."""
    return "all coats" if layer == "total" else f"coat {layer}"


def typeset(words: str) -> str:
    """Return words with the units in them as they are printed: "2,400 m2" has its raised 2."""
    units = _PLAIN_UNITS.sub(lambda found: f"{NO_BREAK}{_PRINTED[found[1]]}", words)
    units = _PER_SQUARE.sub(lambda found: f"{found[1].replace('u', 'µ')}/{found[2]}²", units)
    return _SQUARE.sub(f"\\1{NO_BREAK}\\2²", units)


_PARTED = re.compile(
    r"(?<=\d) (?=(?:%|wt|°[CF]|[µmck]?m[²³]?|MPa|psi|mils?|in|ft[²³]?|h|d|min|s|[kmµ]?g|lb|lbf|k?N|"
    r"m?L|gal|K|[µm]?V)(?:[\s/.,;:)]|$)|of \d)"
    r"|(?<=\bk) (?== \d)|(?<=\bk =) (?=\d)|(?<=\brevision) (?=\d)"
    r"|(?<=\b[A-Z]\.) (?=[A-Z])|(?<=\bof) (?=\d)|(?<=[<>≤≥≈±]) (?=\d)|(?<=\bpH) (?=\d)"
)


def from_to(low: str, high: str) -> str:
    """Return two values as a range that says their unit once: "82.7 to 85.0 %"."""
    one, other = _NUMBER.fullmatch(low), _NUMBER.fullmatch(high)
    if one and other and one["before"] == other["before"] and one["unit"] == other["unit"]:
        return f"{one['before']}{one['number']} to {other['number']}{other['unit']}"
    return f"{low} to {high}"


def unit_once(shown: str) -> str:
    """Return values that share a unit with the unit at their end: "83; 85; 81 µm"."""
    parts = [_NUMBER.fullmatch(part) for part in shown.split("; ")]
    found = [part for part in parts if part]
    units = {part["unit"] for part in found}
    if len(found) < len(parts) or len(units) != 1 or any(part["before"] for part in found):
        return shown
    return "; ".join(part["number"] for part in found) + units.pop()


_NUMBER = re.compile(r"(?P<before>(?:pH )?)(?P<number>[−\d.,]+)(?P<unit>(?: \D*)?)")


def unparted(words: str) -> str:
    """Return words as they are printed; no line ends between a number and its sign or unit."""
    return _PARTED.sub(NO_BREAK, typeset(words))
