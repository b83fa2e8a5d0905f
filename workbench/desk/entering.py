"""Entering many tests one after the other: what a new row takes from the one before it."""

import re
from collections.abc import Mapping, Sequence

from workbench.records import (
    Breaks,
    Coat,
    Dossier,
    Measurement,
    Plane,
    PullOff,
    Rating,
    Record,
    Share,
    Thickness,
)
from workbench.records.planes import MOST_COATS

ENTERED: tuple[type[Record], ...] = (PullOff, Rating, Thickness, Measurement)
"""The types that are entered row by row."""

_COLUMNS: dict[type[Record], tuple[str, ...]] = {
    PullOff: (
        "ref", "location", "reading", "breaks", "came_away", "seconds", "date", "method", "fixture",
        "shape", "cut_round", "glue", "cure", "calibrated_for", "operator", "instrument", "note",
    ),
    Rating: ("ref", "location", "rating", "plane", "date", "method", "operator", "note"),
    Thickness: (
        "ref", "location", "layer", "readings", "unit", "method", "date", "operator", "note",
    ),
    Measurement: (
        "ref", "location", "value", "plane", "depth", "quantity", "method", "date", "operator",
        "note",
    ),
}  # fmt: skip
_CARRIED = frozenset(
    {"date", "method", "operator", "instrument", "fixture", "shape", "cut_round", "glue", "cure",
     "calibrated_for", "unit", "quantity"}
)  # fmt: skip

Texts = dict[str, str]


def columns_of_entry(kind: type[Record]) -> tuple[str, ...]:
    """Return the fields that are entered, what changes from row to row first."""
    return _COLUMNS[kind]


def next_row(kind: type[Record], dossier: Dossier, rows: Sequence[Mapping[str, str]]) -> Texts:
    """Return what stands in a new row: the next ref, and what is the same as in the row before.

    Without a row before it the last record of the case stands in for it.
    """
    last = rows[-1] if rows else _last_of_case(kind, dossier)
    carried = {name: last.get(name, "") for name in _COLUMNS[kind] if name in _CARRIED}
    return {name: text for name, text in carried.items() if text} | {
        "ref": _next_ref(kind, dossier, rows)
    }


def is_untouched(row: Mapping[str, str]) -> bool:
    """Return whether nothing but what was carried stands in a row."""
    return not any(text for name, text in row.items() if name != "ref" and name not in _CARRIED)


def _last_of_case(kind: type[Record], dossier: Dossier) -> Mapping[str, str]:
    from workbench.desk.entry import texts_of

    held = dossier.all(kind)
    return texts_of(held[-1]) if held else {}


def _next_ref(kind: type[Record], dossier: Dossier, rows: Sequence[Mapping[str, str]]) -> str:
    refs = [one.label for one in dossier.all(kind, withdrawn=True)]
    refs += [row.get("ref", "") for row in rows]
    counted = [found for ref in refs if (found := re.fullmatch(r"(.*?)(\d+)", ref))]
    if not counted:
        return f"{kind.title[0]}-01"
    head = counted[-1][1]
    same = [found[2] for found in counted if found[1] == head]
    number, width = max(int(text) for text in same) + 1, max(len(text) for text in same)
    return f"{head}{number:0{width}d}"


# -- breaks, share by share


def planes_of_system(system: Sequence[Coat]) -> tuple[Plane, ...]:
    """Return the planes in which a pull-off on a system may break, from the top down."""
    top = min(max((coat.order for coat in system), default=1), MOST_COATS)
    planes = [Plane.within(0)]
    for order in range(top):
        planes += [Plane.above(order), Plane.within(order + 1)]
    return tuple(reversed([*planes, Plane("-/Y"), Plane("Y"), Plane("Y/Z")]))


def with_share(breaks: Breaks | None, plane: Plane, percent: float) -> Breaks | None:
    """Return breaks in which `plane` has `percent`, never above what the others leave.

    A plane with nothing is left out; None says that no plane has a share.
    """
    held = breaks.shares if breaks else ()
    others = [share for share in held if share.plane != plane]
    room = 100 - sum(share.percent or 0 for share in others)
    given = min(max(percent, 0.0), room)
    mine = [Share(plane, given)] if given > 0 else []
    at = next((i for i, share in enumerate(held) if share.plane == plane), len(others))
    shares = (*others[:at], *mine, *others[at:])
    return Breaks(shares) if shares else None


def left_over(breaks: Breaks | None) -> float:
    """Return how much of the face no plane has yet, in percent."""
    return 100 - (breaks.total if breaks else 0)
