"""Going to pages of the window, and reading what stands on them."""

from typing import TypeVar

from workbench.ui.pages.page import Page
from workbench.ui.table.lines import LinesView
from workbench.ui.window import Window

P = TypeVar("P", bound=Page)


def page_of(window: Window, key: str, kind: type[P]) -> P:
    """Turn to a page and return it."""
    assert window.desk
    page = window.desk.open_page(key)
    assert isinstance(page, kind)
    return page


def said_in(lines: LinesView) -> list[tuple[str, ...]]:
    """Return what stands in a list, row by row."""
    return [line.cells for line in lines.lines.lines]
