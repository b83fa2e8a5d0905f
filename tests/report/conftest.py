"""The report of the sample case, written once for all tests that read it."""

import pytest
from bottling_hall import bottling_hall, computed, picture
from report_made import Made, setup

from workbench.report.document import Binding
from workbench.report.writing import write_report


@pytest.fixture(scope="session")
def report(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Return the full report, its pages not counted."""
    path = tmp_path_factory.mktemp("report") / "report.docx"
    sections = write_report(
        bottling_hall(),
        path,
        setup=setup(),
        results=computed(),
        picture=picture,
        binding=Binding(numbered=True),
    )
    return Made(path, sections)
