"""The label sheets and rolls there are, as data."""

import tomllib
from dataclasses import dataclass

from cattrs import structure

from workbench.resources import resource


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of label sheet or roll; all lengths in millimetres.

    Attributes:
        id: Short name, as on the command line.
        title: What a person reads.
        page: Width and height of the page.
        grid: Columns and rows.
        label: Width and height of a label.
        margin: Left and top margin.
        pitch: From label to label, across and down.
    """

    id: str
    title: str
    page: tuple[float, float]
    grid: tuple[int, int]
    label: tuple[float, float]
    margin: tuple[float, float]
    pitch: tuple[float, float]

    @property
    def on_a_page(self) -> int:
        """How many labels a page holds."""
        return self.grid[0] * self.grid[1]

    def corner(self, place: int) -> tuple[float, float]:
        """Return the left and top of label `place` (from 0, row by row), from the page's corner.

        Raises:
            ValueError: The page has no such place.
        """
        if not 0 <= place < self.on_a_page:
            last = self.on_a_page
            raise ValueError(f"place {place + 1}: a page of {self.id} has places 1 to {last}")
        row, column = divmod(place, self.grid[0])
        return (
            self.margin[0] + column * self.pitch[0],
            self.margin[1] + row * self.pitch[1],
        )


def stocks() -> dict[str, Stock]:
    """Return the label stocks by their short names."""
    said = tomllib.loads(resource("labels.toml").read_text("utf-8"))["stock"]
    return {one["id"]: structure(one, Stock) for one in said}
