"""Whatever stands in the records, the document is valid, opens again, and says it."""

import io
import tempfile
from pathlib import Path

import docx
import pytest
from anything import records
from builders import dossier, make
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from openxml_audit import OpenXmlValidator
from PIL import Image
from report_made import setup

from workbench.desk.reporting import computed
from workbench.records import (
    KINDS,
    Area,
    CaseEntry,
    Coat,
    Location,
    Photo,
    PullOff,
    Record,
    SurveyEntry,
)
from workbench.report.checks import open_points
from workbench.report.document import Binding
from workbench.report.draft import Draft
from workbench.report.exhibit_book import write_book
from workbench.report.given import Form
from workbench.report.writing import write_draft, write_report
from workbench.resources import report_profile_names
from workbench.trade.showing import System

LONG = "A note that goes on. " * 2000
CASES: dict[str, str] = {
    "control characters": "before\x00\x08\x0b\x1f after",
    "a lone surrogate": "half \ud83d of a sign",
    "right to left": "שלום 12 MPa مرحبا",
    "an override of direction": "pay \u202eMPa 001\u202c now",
    "a formula": '=HYPERLINK("http://x","y")',
    "markup": "</w:t></w:r><w:r><w:t>&amp; <b>",
    "braces of the editor": "{pull_off P1: stress} {{x}} {see nowhere}",
    "a very long note": LONG,
    "a word without an end": "x" * 30_000,
    "signs outside the plane": "𝔘𝔫𝔦 🧪 é",
    "only blanks": " \t\n ",
    "lines": "one\ntwo\r\nthree\rfour",
}


def written(tmp_path: Path, *records: Record, picture: Path | None = None) -> Path:
    path = tmp_path / "report.docx"
    write_report(dossier(*records), path, setup=setup(), picture=lambda _name: picture)
    return path


def valid(path: Path) -> bool:
    errors = OpenXmlValidator(max_errors=0).validate(str(path)).errors
    return [e for e in errors if "Numbering definition '0'" not in e.description] == []


def words(path: Path) -> str:
    document = docx.Document(str(path))
    cells = (c.text for t in document.tables for row in t.rows for c in row.cells)
    return "\n".join((*(p.text for p in document.paragraphs), *cells))


@pytest.mark.parametrize("said", CASES.values(), ids=CASES.keys())
def test_any_words_give_a_valid_document_that_opens_again(tmp_path: Path, said: str) -> None:
    records = (
        make(CaseEntry, key="title", value=said),
        make(CaseEntry, key="reference", value="BH-1"),
        make(Area, name=said, note=said),
        make(Location, description=said),
        make(Coat, product=said),
        make(SurveyEntry, note=said),
        make(PullOff, note=said, operator=said, reading="2 MPa", breaks="A 100"),
    )
    path = written(tmp_path, *records)
    assert valid(path)
    assert "Investigation report" in words(path)


def test_a_long_note_stands_in_the_report_whole(tmp_path: Path) -> None:
    path = written(tmp_path, make(Area), make(Location), make(SurveyEntry, note=LONG))
    assert LONG.strip() in words(path)


def test_a_name_in_braces_that_a_person_typed_into_a_record_is_no_field(tmp_path: Path) -> None:
    path = written(tmp_path, make(Area, note="{pull_off P1: stress}"), make(Location))
    assert "{pull_off P1: stress}" in words(path)


def jpeg(size: tuple[int, int]) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, "grey").save(out, "JPEG")
    return out.getvalue()


PICTURES = {
    "one pixel": jpeg((1, 1)),
    "a long strip": jpeg((4000, 3)),
    "huge": jpeg((9000, 7000)),
    "cut short": jpeg((900, 700))[:900],
    "no picture": b"MZ not a picture",
    "empty": b"",
}


@pytest.mark.parametrize("blob", PICTURES.values(), ids=PICTURES.keys())
def test_any_picture_gives_a_valid_document(tmp_path: Path, blob: bytes) -> None:
    file = tmp_path / "p.jpg"
    file.write_bytes(blob)
    photos = [make(Photo, ref=f"PH-{n}", file=f"p{n}.jpg", caption="x") for n in range(3)]
    path = written(tmp_path, make(Area), *photos, picture=file)
    assert valid(path)
    told = "PH-1: the" in words(path)
    assert told is (blob in (PICTURES["cut short"], PICTURES["no picture"], PICTURES["empty"]))


def test_no_pictures_at_all_give_a_valid_document(tmp_path: Path) -> None:
    path = written(tmp_path, make(Area), make(Photo, ref="PH-1", file="gone.jpg"))
    assert valid(path)
    assert "the picture is not among the originals of the case" in words(path)


def test_an_empty_case_gives_a_valid_document(tmp_path: Path) -> None:
    assert valid(written(tmp_path))


LINKED = ["A1", "A2", "L1", "P1", "S1", "FC-3", "1", "2", "photos/p.jpg", "f-ph", "ASTM D7234",
          "question 1", "photo P1", "table strength", "figure stack", "pull_off P1", "total",
          *(words for words in CASES.values() if len(words) < 100)]  # fmt: skip
"""Words that records may share, so that they lead to each other, and hostile ones."""
KIND = st.sampled_from(KINDS)


@settings(
    max_examples=15,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)
@given(
    st.lists(
        KIND.flatmap(lambda kind: records(kind, st.sampled_from(LINKED))) | KIND.flatmap(records),
        max_size=14,
    ),
    st.sampled_from(Form),
    st.sampled_from(System),
    st.sampled_from(("", *report_profile_names())),
)
def test_any_records_at_all_give_a_valid_report_and_a_valid_exhibit_book(
    held: list[Record], form: Form, system: System, profile: str
) -> None:
    whole = dossier(*(one for one in held if not one.faults()))
    draft = Draft(whole, computed(whole), setup(form=form, system=system, profile=profile))
    with tempfile.TemporaryDirectory() as folder:
        report, book = Path(folder) / "report.docx", Path(folder) / "book.docx"
        sections = write_draft(draft, report, Binding())
        open_points(draft, sections)
        write_book(draft, sections, book, Binding())
        assert valid(report)
        assert valid(book)


def test_stopping_leaves_nothing_behind(tmp_path: Path) -> None:
    class StoppedError(Exception):
        pass

    def stop(done: int, _whole: int) -> None:
        if done > 5:
            raise StoppedError

    with pytest.raises(StoppedError):
        write_report(dossier(make(Area)), tmp_path / "r.docx", setup=setup(), step=stop)
    assert list(tmp_path.iterdir()) == []
