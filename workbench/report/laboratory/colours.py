"""Colour and gloss, by instrument; and the checks of instruments with known materials."""

from workbench.analysis.laboratory.checks import InstrumentCheck
from workbench.analysis.laboratory.colours import ColourChange
from workbench.analysis.laboratory.found import Laboratory
from workbench.report.blocks import Block, Row
from workbench.report.draft import Draft
from workbench.report.laboratory.common import headed, heads, table
from workbench.trade.showing import DIFFERENCE, TEMPERATURE, Kind

INDICATIVE = "indicative only: read off a photograph"


def colours(_draft: Draft, found: Laboratory) -> list[Block]:
    """Return colours and gloss held against each other; pictures only as an indication."""
    if not found.colours:
        return []
    rows = (Row(_cells(one), one.sources) for one in found.colours)
    columns = heads(
        "Ref", "On", "Against", "ΔE00", "ΔE*ab", "ΔL*", "ΔC*", "Gloss kept", "Doubts",
        numeric=("ΔE00", "ΔE*ab", "ΔL*", "ΔC*", "Gloss kept"),
    )  # fmt: skip
    note = (
        "ΔE00: CIEDE2000, all weights 1 (ISO/CIE 11664-6). ΔL* and ΔC*: reading less the one it "
        "is held against. Gloss kept: at the same angle (ASTM D523, from memory)."
    )
    blocks = table("colours", "Differences of colour, and gloss kept", columns, rows, note)
    return headed("Colour and gloss", "colour", blocks)


def _cells(one: ColourChange) -> tuple[str, ...]:
    def number(value: float | None, digits: int, sign: str = "") -> str:
        return "–" if value is None else f"{value:{sign}.{digits}f}".replace("-", "−")

    told = [INDICATIVE] if one.indicative else []
    gloss = "–" if one.gloss_percent is None else f"{one.gloss_percent:.0f} %"
    at = (one.reading.at, one.against.at)
    return (
        one.reading.ref, at[0], f"{at[1]} ({one.against.ref})", number(one.de00, 2),
        number(one.de76, 2), number(one.lightness, 2, "+"), number(one.chroma, 2, "+"), gloss,
        "; ".join((*told, *one.doubts)) or "none",
    )  # fmt: skip


def checks(draft: Draft, found: Laboratory) -> list[Block]:
    """Return the checks of the instruments with known materials."""
    if not found.checks:
        return []
    rows = (Row(_check(draft, one), one.sources) for one in found.checks)
    columns = heads(
        "Check", "Should be", "Found", "Deviation", "Tolerance", "Within",
        numeric=("Should be", "Found", "Deviation", "Tolerance"),
    )  # fmt: skip
    bases = dict.fromkeys(f"{one.material}: {one.basis}" for one in found.checks)
    notes = dict.fromkeys(f"{one.material}: {one.note}" for one in found.checks if one.note)
    note = (
        f"{'. '.join((*bases, *notes))}. A check holds for the day and the instrument it was made "
        "on; the laboratory's own limits go before those of common practice."
    )
    blocks = table("checks", "Checks with known materials", columns, rows, note, traced=True)
    return headed("Checks of the instruments", "checks", blocks)


def _check(draft: Draft, one: InstrumentCheck) -> tuple[str, ...]:
    def number(value: float | None, kind: Kind = TEMPERATURE, sign: str = "") -> str:
        if value is None:
            return "–"
        if one.unit == "°C":
            return draft.show.value(kind, value)
        return f"{value:{sign}.2f}".replace("-", "−")

    off = None if one.found is None else one.found - one.should
    unit = "" if one.unit == "°C" else f", {one.unit}"
    return (
        f"{one.what}{unit}", number(one.should), number(one.found), number(off, DIFFERENCE, "+"),
        f"± {number(one.tolerance, DIFFERENCE)}", one.verdict,
    )  # fmt: skip
