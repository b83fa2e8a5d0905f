"""The size of a figure as it stands on a page of the report."""

_WIDTH_MM = 160.0


def report_size(height_mm: float) -> tuple[float, float]:
    """Return width and height in inches, between the margins of a page."""
    return _WIDTH_MM / 25.4, height_mm / 25.4
