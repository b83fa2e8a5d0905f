"""Layers and planes that rows speak of, against the layers that their system has."""

from collections.abc import Iterable, Iterator

from workbench.exchange.field_book.rows import Entry
from workbench.exchange.field_book.world import World
from workbench.records import (
    Application,
    Area,
    Breaks,
    Coat,
    Dossier,
    Face,
    Plane,
    Problem,
    Record,
    Thickness,
    layer_letter,
    layer_order,
)
from workbench.records.planes import MOST_COATS


def check_stack(world: World) -> Iterator[Problem]:
    """Return layers above the last coat of the system, and gaps in a system."""
    if "coat" in world.unread:
        return
    if too_high := list(_too_high(world)):
        yield from too_high
        return
    yield from _gaps(world)
    heights: dict[str, tuple[str, int] | None] = {}
    for entry in world.entries:
        layers = list(_layers(entry.record))
        for area in _areas(world.both, entry.record) if layers else ():
            if area.ref not in heights:
                heights[area.ref] = _height(world.both, area)
            if height := heights[area.ref]:
                yield from _above(entry, layers, *height, certain=bool(area.system))


def _areas(both: Dossier, record: Record) -> Iterable[Area]:
    if isinstance(record, Application):
        return [area for ref in record.area if (area := both.area(ref))]
    area = both.area_of(record)
    return [area] if area else []


def _height(both: Dossier, area: Area) -> tuple[str, int] | None:
    """Return name and last coat of the system of `area`, where it is described."""
    system = both.system_of(area)
    return (system[-1].system, system[-1].order) if system else None


def _layers(record: Record) -> Iterator[tuple[str, int, str]]:
    """Return each layer that a record speaks of: field, order, and as it stands there."""
    for name in ("on", "coat"):
        order = getattr(record, name, None)
        if isinstance(order, int):
            yield name, order, f"coat {order}"
    if isinstance(record, Thickness) and record.order is not None:
        yield "layer", record.order, f"layer {record.order}"
    for name in ("breaks", "plane", "face"):
        for plane in _planes(getattr(record, name, None)):
            if plane.upper is not None:
                yield name, plane.upper, f"plane {plane}"
    quantity, colon, end = str(getattr(record, "quantity", "")).partition(":")
    if colon and quantity == "layer_thickness" and end.isdecimal():
        yield "quantity", int(end), f"layer {end}"
    if colon and quantity == "residue" and len(end) == 1 and end in "ABCDEFGHIJKLMNOPQRSTUVWX":
        yield "quantity", layer_order(end), f"layer {end}"


def _planes(value: object) -> Iterator[Plane]:
    if isinstance(value, Plane):
        yield value
    elif isinstance(value, Face) and value.plane:
        yield value.plane
    elif isinstance(value, Breaks):
        yield from (share.plane for share in value.shares if share.plane)


def _above(
    entry: Entry, layers: Iterable[tuple[str, int, str]], system: str, last: int, *, certain: bool
) -> Iterator[Problem]:
    """Return layers that are not there; it hinders where the area itself names its system."""
    for name, order, said in layers:
        if order < 0 or order > last:
            wrong = f"{said}, but the last coat of {system or 'the system'} is {last}"
            right = f"the coats go up to {last}, the planes to {layer_letter(last)}"
            yield entry.problem(name, wrong, right, hinders=certain)


def _too_high(world: World) -> Iterator[Problem]:
    for entry in world.entries:
        if isinstance(entry.record, Coat) and entry.record.order > MOST_COATS:
            wrong = f"order {entry.record.order}"
            yield entry.problem("order", wrong, f"0 to {MOST_COATS}: there are no more letters")


def _gaps(world: World) -> Iterator[Problem]:
    """Return systems in which the orders do not run from 0 without a gap."""
    seen = set()
    for entry in world.entries:
        coat = entry.record
        if not isinstance(coat, Coat) or coat.system in seen:
            continue
        seen.add(coat.system)
        orders = [one.order for one in world.both.system(coat.system)]
        absent = [order for order in range(max(orders)) if order not in orders]
        if absent:
            wrong = f"{coat.system} has no layer {absent[0]}"
            right = "the orders run from 0, the substrate, upwards without a gap"
            yield entry.problem("order", wrong, right, hinders=False)
