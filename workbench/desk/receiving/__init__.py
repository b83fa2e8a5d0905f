"""Receiving samples at a bench: outside first, then each item, then one act."""

from workbench.desk.receiving.checks import (
    DeliveryMode,
    ItemCheck,
    OuterCondition,
    OutsideCheck,
    Papers,
    lacking_inside,
    lacking_outside,
)
from workbench.desk.receiving.reception import Reception, announced, arrival, received_records
from workbench.desk.receiving.scanning import Scan, ScanKind, read_scan

__all__ = [
    "DeliveryMode",
    "ItemCheck",
    "OuterCondition",
    "OutsideCheck",
    "Papers",
    "Reception",
    "Scan",
    "ScanKind",
    "announced",
    "arrival",
    "lacking_inside",
    "lacking_outside",
    "read_scan",
    "received_records",
]
