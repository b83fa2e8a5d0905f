"""What tests of the report share: one moment, one setup."""

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from workbench.report.blocks import Section
from workbench.report.given import Setup

MOMENT = datetime(2024, 12, 20, 10, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Made:
    path: Path
    sections: tuple[Section, ...]


def setup(**said: Any) -> Setup:
    return Setup(**{"number": "BH-2024-11-R1", "moment": MOMENT, **said})
