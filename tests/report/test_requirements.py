"""What is asked of report, testimony, exhibits and Word files, line by line, and what holds it."""

import re
import tomllib
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
LINES = tomllib.loads((HERE / "requirements.toml").read_text("utf-8"))
EVERY: list[dict[str, Any]] = [line for part in LINES.values() for line in part]


def named_tests() -> set[str]:
    files = HERE.parent.rglob("test_*.py")
    return {
        name for file in files for name in re.findall(r"def (test_\w+)", file.read_text("utf-8"))
    }


def test_every_line_has_a_test_that_exists_or_a_note() -> None:
    known = named_tests()
    missing = [name for line in EVERY for name in line.get("tests", ()) if name not in known]
    assert missing == []
    assert all(bool(line.get("tests")) != bool(line.get("note")) for line in EVERY)
    assert all(line["source"] and line["asks"] for line in EVERY)


def test_the_counts_are_those_that_developers_are_told() -> None:
    held = sum(1 for line in EVERY if line.get("tests"))
    said = (HERE.parent.parent / "DEVELOPERS.md").read_text("utf-8")
    assert f"{held} of {len(EVERY)} lines have a test, {len(EVERY) - held} a note" in said
