"""Draws the pictures of a sample case again: `python -m tools.sample_pictures CASE [REF …]`."""

import csv
import sys
from pathlib import Path
from zlib import crc32

import numpy as np

from tools.sample_pictures import balustrades, bottling_hall, quayside
from tools.sample_pictures.canvas import Card, framed, save

ROOT = Path(__file__).parents[3] / "sample_cases"
CASES = {
    "balcony-balustrades": balustrades,
    "bottling-hall-floor": bottling_hall,
    "quayside-steel": quayside,
}


def draw(name: str, wanted: list[str]) -> None:
    """Draw the plan and the photographs of a case, or only those whose refs are `wanted`."""
    folder, pictures = ROOT / name, CASES[name]
    reference = _rows(folder / "case.csv")[0]["value"]
    for row in _rows(folder / "photos.csv"):
        if wanted and row["ref"] not in wanted:
            continue
        card = Card(reference, row["ref"], row["at"], row["taken"], row["caption"])
        image = pictures.DRAWERS[row["ref"]](np.random.default_rng(crc32(row["file"].encode())))
        save(framed(image, card), folder / row["file"], card)
        sys.stdout.write(f"{row['file']}\n")
    if not wanted:
        (folder / "plan").mkdir(exist_ok=True)
        pictures.plan().save(folder / _rows(folder / "plan.csv")[0]["file"], optimize=True)


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


if __name__ == "__main__":
    draw(sys.argv[1], sys.argv[2:])
