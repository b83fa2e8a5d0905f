"""Exhibits: one number for ever, page numbers on every page, originals untouched."""

import io
import re
from pathlib import Path

import docx
import numpy as np
import pytest
from builders import make
from PIL import Image

from workbench.desk.acts import Add, FileToKeep, Keep
from workbench.desk.case import Case
from workbench.desk.exhibiting import (
    add_exhibit,
    move_exhibit,
    number_pages,
    register_of,
    withdraw_exhibit,
    write_exhibit_book,
    write_single_exhibit,
)
from workbench.records import (
    Area,
    CaseEntry,
    Document,
    Exhibit,
    ExhibitKind,
    KnownError,
    Location,
    Photo,
    PhotoMark,
    Rating,
    Sample,
)
from workbench.report.exhibits import Scheme
from workbench.report.marked import with_marks
from workbench.report.pictures import prepare_bytes


def picture(colour: str = "red") -> bytes:
    exif = Image.Exif()
    exif[0x0110] = "camera"
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)
    out = io.BytesIO()
    Image.new("RGB", (90, 60), colour).save(out, "JPEG", exif=exif.tobytes())
    return out.getvalue()


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Case:
    """Return a case with a photograph, a document, a sample and 120 ratings."""
    monkeypatch.setattr("workbench.report.pages.office", lambda: None)
    made = Case.create(tmp_path / "a.case", author="A")
    ratings = tuple(make(Rating, ref=f"K-{n:03d}", date="2024-11-12") for n in range(120))
    records = (
        make(CaseEntry, key="reference", value="BH-1"),
        make(Area),
        make(Location),
        make(Photo, ref="PH-1", file="photos/p1.jpg", caption="The edge", taken="2024-11-12 09:00",
             at="L1", direction="north"),
        make(Photo, ref="PH-2", file="photos/gone.jpg"),
        make(Document, ref="D-1", name="Data sheet", status="received", file="documents/d.txt"),
        make(Sample, ref="S-1"),
    )  # fmt: skip
    made.do(Add((*records, *ratings)))
    files = (FileToKeep("photos/p1.jpg", picture()), FileToKeep("documents/d.txt", b"words"))
    made.do(Keep(files))
    return made


def refs(case: Case) -> list[str]:
    return [one.exhibit.ref for one in register_of(case)]


@pytest.mark.parametrize(
    ("first", "thirtieth"),
    [("AB1", "AB30"), ("PX-001", "PX-030"), ("A", "AD"), ("NH-Y", "NH-BB"), ("7a", "36a")],
)
def test_a_scheme_counts_on_as_its_first_number_shows(first: str, thirtieth: str) -> None:
    scheme = Scheme.read(first)
    labels = [scheme.label(n) for n in range(30)]
    assert (labels[0], labels[-1]) == (first, thirtieth)
    assert len(set(labels)) == 30


def test_a_scheme_that_counts_nothing_is_refused() -> None:
    with pytest.raises(KnownError, match="is no first number of exhibits"):
        Scheme.read("exhibit")


def test_a_withdrawn_exhibit_keeps_its_number_and_is_listed(case: Case) -> None:
    for of in ("photo PH-1", "document D-1", "sample S-1"):
        add_exhibit(case, of)
    withdraw_exhibit(case, "EX-2", "superseded")
    added = add_exhibit(case, "table ratings")
    assert added.ref == "EX-4"
    assert refs(case) == ["EX-1", "EX-2", "EX-3", "EX-4"]
    assert register_of(case)[1].exhibit.withdrawn == "superseded"


def test_a_case_has_its_own_scheme(case: Case) -> None:
    case.do(Add((make(CaseEntry, key="exhibit scheme", value="AB1"),)))
    assert [add_exhibit(case, "photo PH-1").ref, add_exhibit(case, "sample S-1").ref] == [
        "AB1",
        "AB2",
    ]


def test_an_exhibit_of_nothing_is_refused(case: Case) -> None:
    for of in ("photo PH-9", "figure mars", "planet 4"):
        with pytest.raises(KnownError, match="nothing can be shown"):
            add_exhibit(case, of)


def test_an_illustrative_aid_needs_its_legend_and_prints_it(case: Case, tmp_path: Path) -> None:
    with pytest.raises(KnownError, match="legend"):
        add_exhibit(case, "photo PH-1", kind="illustrative_aid")
    add_exhibit(case, "photo PH-1", kind="illustrative_aid", legend="Where the edge runs.")
    path, _pdf = write_exhibit_book(case, tmp_path / "book.docx")
    said = "\n".join(p.text for p in docx.Document(str(path)).paragraphs)
    assert "Illustrative aid. It is not evidence. Where the edge runs." in said


@pytest.mark.parametrize(
    ("of", "kind"),
    [
        ("photo PH-1", ExhibitKind.SUBSTANTIVE),
        ("table ratings", ExhibitKind.SUMMARY),
        ("figure ratings", ExhibitKind.ILLUSTRATIVE_AID),
    ],
)
def test_what_the_program_draws_or_sums_up_is_not_offered_as_evidence_unasked(
    case: Case, of: str, kind: ExhibitKind
) -> None:
    assert add_exhibit(case, of, legend="The ratings, place by place.").kind is kind


def test_a_figure_without_a_legend_asks_for_it(case: Case) -> None:
    with pytest.raises(KnownError, match="give its legend, what it illustrates"):
        add_exhibit(case, "figure ratings")


def test_moving_an_exhibit_moves_no_number(case: Case) -> None:
    for of in ("photo PH-1", "document D-1", "sample S-1"):
        add_exhibit(case, of)
    move_exhibit(case, "EX-3", 1)
    assert refs(case) == ["EX-3", "EX-1", "EX-2"]


def test_every_page_has_a_number_of_its_own_and_none_is_ever_changed(case: Case) -> None:
    add_exhibit(case, "photo PH-1")
    add_exhibit(case, "table ratings")
    number_pages(case, "BH")
    first = [(e.first_page, e.last_page, e.pages) for e in case.dossier.all(Exhibit)]
    assert first[0] == ("BH000001", "BH000001", 1)
    assert first[1][0] == "BH000002"
    assert (first[1][2] or 0) > 1
    add_exhibit(case, "sample S-1")
    number_pages(case, "BH")
    after = [(e.first_page, e.last_page, e.pages) for e in case.dossier.all(Exhibit)]
    assert after[:2] == first
    assert int(after[2][0][2:]) == int(first[1][1][2:]) + 1


def test_the_book_stamps_every_page_once(case: Case, tmp_path: Path) -> None:
    for of in ("photo PH-1", "table ratings", "document D-1"):
        add_exhibit(case, of)
    number_pages(case, "BH")
    path, pdf = write_exhibit_book(case, tmp_path / "book.docx")
    assert pdf is None
    paragraphs = docx.Document(str(path)).paragraphs
    stamps = [p.text for p in paragraphs if p.style and p.style.name == "Exhibit Stamp"]
    numbers = [re.findall(r"BH\d{6}", stamp) for stamp in stamps]
    last = case.dossier.all(Exhibit)[-1].last_page
    assert [n for (n,) in numbers] == [f"BH{n:06d}" for n in range(1, int(last[2:]) + 1)]


def test_a_photograph_carries_caption_source_digest_and_what_was_done(
    case: Case, tmp_path: Path
) -> None:
    add_exhibit(case, "photo PH-1")
    path, _pdf = write_exhibit_book(case, tmp_path / "book.docx")
    said = "\n".join(p.text for p in docx.Document(str(path)).paragraphs)
    (original,) = [o for o in case.originals if o.name == "photos/p1.jpg"]
    assert "Photograph PH-1. The edge" in said
    assert "north" in said
    assert original.digest in said
    assert "Done to this copy: nothing but the removal of metadata" in said


def test_a_summary_names_its_records_and_a_drawing_is_no_copy(case: Case, tmp_path: Path) -> None:
    add_exhibit(case, "table ratings by plane", kind="summary")
    add_exhibit(case, "figure ratings", kind="summary")
    document, _pdf = write_exhibit_book(case, tmp_path)
    said = "\n".join(p.text for p in docx.Document(str(document)).paragraphs)
    assert "Source: table of the report, summing up K-000 to K-119." in said
    assert "Source: figure of the report, drawn from K-000 to K-119." in said
    assert "It was drawn for this book from the records named" in said
    assert "The original is unchanged" not in said


def test_the_book_tells_no_place_and_no_camera(case: Case, tmp_path: Path) -> None:
    add_exhibit(case, "photo PH-1")
    path, _pdf = write_exhibit_book(case, tmp_path / "book.docx")
    assert b"camera" not in path.read_bytes()
    original = case.original("photos/p1.jpg")
    assert original is not None
    assert b"camera" in original.read_bytes()


def test_a_picture_that_is_gone_is_told_and_the_book_is_written(case: Case, tmp_path: Path) -> None:
    add_exhibit(case, "photo PH-2")
    path, _pdf = write_exhibit_book(case, tmp_path / "book.docx")
    said = "\n".join(p.text for p in docx.Document(str(path)).paragraphs)
    assert "Cannot be shown: the picture is not among the originals of the case." in said


@pytest.mark.parametrize(("ending", "magic"), [("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_one_exhibit_alone_is_a_page_of_300_dots_to_the_inch(
    case: Case, tmp_path: Path, ending: str, magic: bytes
) -> None:
    add_exhibit(case, "photo PH-1")
    out = write_single_exhibit(case, "EX-1", tmp_path / f"one.{ending}")
    assert out.read_bytes().startswith(magic)
    if ending == "png":
        with Image.open(out) as page:
            assert page.size == (2481, 3507)
            assert [round(dots) for dots in page.info["dpi"]] == [300, 300]


def test_a_table_alone_is_refused_in_words(case: Case, tmp_path: Path) -> None:
    add_exhibit(case, "table ratings")
    with pytest.raises(KnownError, match="the exhibit book has it"):
        write_single_exhibit(case, "EX-1", tmp_path / "one.png")


def mark(shape: str, points: str, **more: str) -> PhotoMark:
    return make(PhotoMark, ref=shape, photo="PH-1", shape=shape, points=points, **more)


def test_marks_are_drawn_over_a_copy_and_said_in_words() -> None:
    photo = prepare_bytes(picture("grey"))
    marks = [mark("arrow", "0.1 0.1; 0.5 0.5", words="edge"), mark("ring", "0.5 0.5; 0.6 0.5")]
    drawn = with_marks(photo, marks)
    assert drawn.done == ("2 marks drawn over it",)
    plain = with_marks(photo, [])
    assert plain.blob == photo.blob
    with Image.open(io.BytesIO(drawn.blob)) as page:
        pixels = np.asarray(page.convert("RGB"))
    assert np.count_nonzero((pixels[..., 0] > 150) & (pixels[..., 1] < 90)) > 500


def test_marks_are_replayed_to_the_same_pixels() -> None:
    photo = prepare_bytes(picture("grey"))
    marks = [
        mark("scale", "0.1 0.9; 0.6 0.9", length="50 mm"),
        mark("dimension", "0.1 0.2; 0.3 0.2"),
    ]
    assert with_marks(photo, marks).blob == with_marks(photo, marks).blob
