"""What stands on the abscissa of a curve, by its heading or unit, and in which unit."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workbench.records import CurveKind

Floats = NDArray[np.float64]
_ASIDE = re.compile(
    r"^(time|t\s*[/(\[]\s*(s|min)|index|no\.?|nr\.?|#|point|row|channel|unnamed)\b"
    r"|\btime\b|^[#№]$",
    re.IGNORECASE,
)


_UNITS = (
    (r"1/cm|cm-1|cm\(-1\)|cm⁻¹|cm−1|wavenumber|wellenzahl", CurveKind.INFRARED, ""),
    (r"nanomet|wavelength.*nm", CurveKind.INFRARED, "nm"),
    (r"micromet|wavelength|^[uµμ]m$", CurveKind.INFRARED, "um"),
    (r"kev", CurveKind.ELEMENTS, ""),
    (r"(^|[(\[/,])ev\b|energyev|electronvolt", CurveKind.ELEMENTS, "eV"),
)


@dataclass(frozen=True, slots=True)
class Abscissa:
    """What an abscissa is.

    Attributes:
        kind: What the curve was measured by.
        unit: Unit as written, where it has to be turned into the one that is used.
        told: What was done to it, in words; empty for nothing.
    """

    kind: CurveKind
    unit: str = ""
    told: str = ""

    def turned(self, x: Floats) -> Floats:
        """Return an abscissa in 1/cm, degC or keV."""
        match self.unit:
            case "K":
                return np.asarray(x - 273.15, dtype=np.float64)
            case "degF":
                return np.asarray((x - 32) / 1.8, dtype=np.float64)
            case "um" | "nm":
                factor = 1e4 if self.unit == "um" else 1e7
                with np.errstate(divide="ignore", invalid="ignore"):
                    return np.asarray(np.where(x > 0, factor / x, np.nan), dtype=np.float64)
            case "eV":
                return np.asarray(x / 1000, dtype=np.float64)
            case _:
                return x


@dataclass(frozen=True, slots=True)
class Choice:
    """Which column of a table is the abscissa.

    Attributes:
        column: Its place.
        abscissa: What it is.
        ordinates: Places of the columns that are curves.
        aside: Places of those that are none, as time or a number of the row.
    """

    column: int
    abscissa: Abscissa
    ordinates: tuple[int, ...]
    aside: tuple[int, ...]


def abscissa_among(headings: Sequence[str], about: str = "") -> Choice:
    """Return which column is the abscissa: the first that names one, else the first that may be.

    Args:
        headings: Headings of the columns.
        about: What the file says elsewhere, where the headings name nothing.
    """
    kinds = [abscissa_of(heading) for heading in headings]
    known = [n for n, one in enumerate(kinds) if one.kind is not CurveKind.OTHER]
    idle = [n for n, heading in enumerate(headings) if _ASIDE.search(heading.strip())]
    free = [n for n in range(len(headings)) if n not in idle]
    at = known[0] if known else (free[0] if len(free) > 1 else 0)
    abscissa = kinds[at] if known else abscissa_of("", about)
    aside = tuple(sorted({*idle, *known} - {at}))
    ordinates = tuple(n for n in range(len(headings)) if n != at and n not in aside)
    return Choice(at, abscissa, ordinates, aside)


def abscissa_of(unit: str, about: str = "") -> Abscissa:
    """Return what a heading or unit says the abscissa is; `about` decides where it says nothing."""
    said = unit.strip()
    folded = re.sub(r"[\s_^]", "", said).casefold()
    for pattern, kind, turned in _UNITS:
        if re.search(pattern, folded):
            into = {"eV": "keV"}.get(turned, "wavenumbers")
            return Abscissa(kind, turned, f"“{said}” turned into {into}" if turned else "")
    found = _temperature(said, folded)
    return found or Abscissa(_kind_by_words(about))


def _temperature(said: str, folded: str) -> Abscissa | None:
    if re.search(r"flow|dsc|[mu]w|w/g|/min", folded):
        return None
    named = re.search(r"temp|celsius|kelvin|fahrenheit|deg?c|°c|℃", folded)
    bare = re.match(r"^(ts?|tr)([/(\[,]|$)", folded) and re.search(r"[°c]|k[)\]]?$", folded)
    if not (named or bare or folded in ("k", "°f", "degf")):
        return None
    if re.search(r"fahrenheit|°f|degf", folded):
        return Abscissa(CurveKind.THERMOGRAM, "degF", f"“{said}” turned into °C")
    if re.search(r"kelvin|(^|[/(\[,])k[)\]]?$", folded) or re.search(r"[\s,(\[]K[)\]]?$", said):
        return Abscissa(CurveKind.THERMOGRAM, "K", f"“{said}” turned into °C")
    return Abscissa(CurveKind.THERMOGRAM)


def _kind_by_words(words: str) -> CurveKind:
    said = words.upper()
    if any(word in said for word in ("THERMOGRAM", "DSC", "HEAT FLOW", "CALORIMETRY")):
        return CurveKind.THERMOGRAM
    if any(word in said for word in ("INFRARED", "FTIR", "FT-IR", "ATR", "ABSORBANCE", "CM-1")):
        return CurveKind.INFRARED
    if any(word in said for word in ("EDS", "EDX", "X-RAY")):
        return CurveKind.ELEMENTS
    return CurveKind.OTHER
