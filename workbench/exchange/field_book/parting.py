"""Cells that say two things at once, parted before they are read: "<0.5", "5B", "a / b"."""

import re

from workbench.exchange.field_book.cells import Cell, CellKind, clean
from workbench.records import CaseEntry, Coat, LabResult, Measurement, Rating, Record
from workbench.records.codes import Qualifier

_QUALIFIED = re.compile(r"(?P<sign>[<>~])\s*(?P<rest>\S.*)", re.DOTALL)
_LETTERED = re.compile(r"(?P<rating>[0-5])\s*(?P<letter>[AB])", re.IGNORECASE)


def part_cells(kind: type[Record], cells: dict[str, Cell]) -> dict[str, Cell]:
    """Return the cells of a row by field, with what one says of another field moved there."""
    if kind in {Measurement, LabResult}:
        return _part_qualifier(cells)
    if kind is CaseEntry and "key" in cells:
        return cells | {"key": Cell(clean(cells["key"].text).rstrip("*"), cells["key"].kind)}
    if kind is Coat and "material" in cells and "product" not in cells:
        return _part_layers(cells)
    return _part_letter(cells) if kind is Rating else cells


def _part_qualifier(cells: dict[str, Cell]) -> dict[str, Cell]:
    """Return "<0.5" as the qualifier < and the value 0.5, unless another qualifier stands."""
    value = cells.get("value")
    found = _QUALIFIED.fullmatch(clean(value.text)) if value else None
    if not found or value is None or value.kind is not CellKind.TEXT:
        return cells
    sign = Qualifier(found["sign"])
    if "qualifier" in cells and clean(cells["qualifier"].text) != sign:
        return cells
    return cells | {"qualifier": Cell(sign), "value": Cell(found["rest"])}


def _part_layers(cells: dict[str, Cell]) -> dict[str, Cell]:
    """Return a substrate named from below, "brick / masonry_render", as its name and its top."""
    named = clean(cells["material"].text)
    if " / " not in named:
        return cells
    top = named.rpartition(" / ")[2]
    return cells | {"material": Cell(top), "product": Cell(named)}


def _part_letter(cells: dict[str, Cell]) -> dict[str, Cell]:
    """Return "5B" as 5 where the method is the one that writes its ratings so (ASTM D3359)."""
    rating, method = cells.get("rating"), cells.get("method")
    found = _LETTERED.fullmatch(clean(rating.text)) if rating else None
    if not found or method is None:
        return cells
    if not clean(method.text).upper().endswith(f"D3359 {found['letter'].upper()}"):
        return cells
    return cells | {"rating": Cell(found["rating"])}
