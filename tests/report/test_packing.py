"""The package: a stranger verifies it with common tools, and finds nothing that is not his."""

import contextlib
import csv
import io
import shutil
import subprocess
import tempfile
import zipfile
from dataclasses import replace
from pathlib import Path

import bagit
import pytest
from anything import records
from builders import make
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from PIL import Image

from workbench.desk.acts import Add, Change, FileToKeep, Keep
from workbench.desk.case import Case
from workbench.desk.exhibiting import add_exhibit
from workbench.desk.packing import Purpose, pack
from workbench.desk.reporting import Wish, authorise_report, check_report, issue_report
from workbench.records import (
    KINDS,
    CaseEntry,
    Document,
    EditedText,
    Edition,
    Instruction,
    KnownError,
    LabResult,
    Opinion,
    Party,
    Photo,
    Record,
    Sample,
)


def picture() -> bytes:
    exif = Image.Exif()
    exif[0x0110] = "spycam"
    out = io.BytesIO()
    Image.new("RGB", (90, 60), "red").save(out, "JPEG", exif=exif.tobytes())
    return out.getvalue()


STRATEGY = "the client fears the wash line"


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Case:
    """Return a case with everything that a package may and may not hold."""
    monkeypatch.setattr("workbench.report.pages.office", lambda: None)
    monkeypatch.chdir(tmp_path)
    made = Case.create(tmp_path / "a.case", author="R. Tennick")
    privileged = make(Instruction, ref="I2", date="2024-11-05", sender="Counsel", form="e_mail",
                      kind="privileged", substance=STRATEGY)  # fmt: skip
    open_one = make(Instruction, ref="I1", date="2024-11-04", sender="Counsel", form="letter",
                    kind="instruction", substance="Say why.")  # fmt: skip
    made.do(
        Add(
            (
                make(CaseEntry, key="reference", value="BH-1"),
                make(CaseEntry, key="title", value="=1+2"),
                make(CaseEntry, key="client", value="The owner"),
                make(Party, name="R. Tennick", role="investigator", contact="12 High Street"),
                make(Photo, ref="PH 1/é", file="photos/secret place.jpg", caption="The edge"),
                make(
                    Document, ref="D-1", name="Sheet", status="received", file="documents/d 1.txt"
                ),
                make(EditedText, paragraph="report survey: when", text="a working note", by="A"),
                open_one,
            )
        )
    )
    made.do(Add((privileged,), why=STRATEGY))
    files = (
        FileToKeep("photos/secret place.jpg", picture()),
        FileToKeep("documents/d 1.txt", b"x"),
    )
    made.do(Keep(files))
    return made


def issue(case: Case) -> None:
    check_report(case, Wish(), "J. Abara")
    authorise_report(case, "J. Abara")
    issue_report(case, Wish())


def files(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


@pytest.fixture(params=[Purpose.SERVE, Purpose.ARCHIVE])
def packed(request: pytest.FixtureRequest, case: Case, tmp_path: Path) -> Path:
    """Return a package of either purpose."""
    issue(case)
    return pack(case, tmp_path / "bag", request.param).folder


def test_an_independent_reader_of_rfc_8493_finds_it_valid(packed: Path) -> None:
    bag = bagit.Bag(str(packed))
    assert bag.is_valid()
    assert (packed / "bagit.txt").read_bytes().startswith(b"BagIt-Version: 1.0\n")
    assert bag.info["Bag-Software-Agent"].startswith("Coating-failure workbench")


@pytest.mark.parametrize("algorithm", ["sha256", "sha512"])
def test_common_tools_verify_it(packed: Path, algorithm: str) -> None:
    tool = shutil.which(f"{algorithm}sum")
    if tool is None:
        pytest.skip(f"this machine has no {algorithm}sum")
    for manifest in (f"manifest-{algorithm}.txt", f"tagmanifest-{algorithm}.txt"):
        done = subprocess.run(
            [tool, "-c", "--strict", manifest], cwd=packed, capture_output=True, check=False
        )
        assert done.returncode == 0, done.stderr


def test_a_changed_file_is_found_by_both(packed: Path) -> None:
    path = next((packed / "data" / "report").glob("*.docx"))
    path.chmod(0o644)
    path.write_bytes(path.read_bytes() + b"x")
    assert not bagit.Bag(str(packed)).is_valid()


def test_nothing_privileged_no_draft_and_no_working_note_is_in_it(packed: Path) -> None:
    for name, blob in files(packed).items():
        assert STRATEGY.encode() not in blob, name
        assert b"a working note" not in blob, name
        assert "draft" not in name.lower()
        if name.endswith(".docx"):
            with zipfile.ZipFile(io.BytesIO(blob)) as document:
                assert not any(STRATEGY.encode() in document.read(n) for n in document.namelist())
    assert b"Say why." in (packed / "data/records/instruction.csv").read_bytes()


def test_the_journal_keeps_its_numbers_where_a_note_is_privileged(packed: Path) -> None:
    rows = list(csv.DictReader((packed / "data/journal.csv").read_text("utf-8").splitlines()))
    assert [int(row["number"]) for row in rows] == list(range(1, len(rows) + 1))
    assert "an entry on a privileged note" in {row["what"] for row in rows}


def test_the_journal_does_not_tell_how_a_draft_was_worded(case: Case, tmp_path: Path) -> None:
    edit = case.dossier.all(EditedText)[0]
    case.do(Change(replace(edit, text="other words"), why="counsel did not like it"))
    issue(case)
    folder = pack(case, tmp_path / "bag").folder
    assert "counsel did not like it" not in (folder / "data/journal.csv").read_text("utf-8")
    (report,) = (folder / "data/report").glob("*.docx")
    with zipfile.ZipFile(report) as document:
        said = document.read("word/document.xml").decode()
    assert "counsel did not like it" not in said
    assert "an entry on the words of a draft" in said


def test_served_records_name_a_photograph_as_the_package_does(case: Case, tmp_path: Path) -> None:
    issue(case)
    data = pack(case, tmp_path / "bag").folder / "data"
    said = (data / "records/photos.csv").read_text("utf-8")
    (row,) = csv.DictReader(said.splitlines())
    assert row["file"].startswith("photographs/PH")
    assert (data / row["file"]).is_file()


def test_a_text_that_would_run_as_a_formula_does_not(packed: Path) -> None:
    said = (packed / "data/records/case.csv").read_text("utf-8")
    assert '"\'=1+2"' in said


def test_service_copies_tell_no_camera_and_no_name_of_a_file(case: Case, tmp_path: Path) -> None:
    issue(case)
    add_exhibit(case, "photo PH 1/é")
    folder = pack(case, tmp_path / "bag").folder
    held = files(folder)
    photos = [name for name in held if name.startswith("data/photographs/")]
    assert len(photos) == 1
    assert b"spycam" not in b"".join(held.values())
    assert not [name for name in held if "secret" in name]
    assert any(name.endswith("exhibits.docx") for name in held)


def test_an_archive_holds_every_original_as_received(case: Case, tmp_path: Path) -> None:
    issue(case)
    folder = pack(case, tmp_path / "bag", Purpose.ARCHIVE).folder
    kept = case.original("photos/secret place.jpg")
    assert kept is not None
    assert (folder / "data/originals/photos/secret place.jpg").read_bytes() == kept.read_bytes()


def test_the_issued_bytes_are_in_it_unchanged(case: Case, tmp_path: Path) -> None:
    issue(case)
    folder = pack(case, tmp_path / "bag").folder
    kept = case.original("issued/BH-1-R1.docx")
    assert kept is not None
    assert (folder / "data/report/BH-1-R1.docx").read_bytes() == kept.read_bytes()


def test_nothing_is_packed_before_a_report_was_issued(case: Case, tmp_path: Path) -> None:
    with pytest.raises(KnownError, match="no report was issued yet"):
        pack(case, tmp_path / "bag")
    assert not (tmp_path / "bag").exists()


def test_what_is_served_is_what_the_report_rests_on_whatever_changed_since(
    case: Case, tmp_path: Path
) -> None:
    issue(case)
    (document,) = case.dossier.all(Document)
    case.do(Change(replace(document, name="Another sheet")))
    case.do(Add((make(Document, ref="D-2", name="Late", status="received"),)))
    packed = pack(case, tmp_path / "bag")
    said = (packed.folder / "data/records/documents.csv").read_text("utf-8")
    assert "Sheet" in said
    assert "Another sheet" not in said
    assert "D-2" not in said
    changed = "Document D-1: title; Document D-2"
    gone = f"what was changed since BH-1-R1 was issued ({changed})"
    assert packed.left_out == (f"{gone}; issue the next edition to serve that",)
    rows = list(
        csv.DictReader((packed.folder / "data/journal.csv").read_text("utf-8").splitlines())
    )
    assert rows[-1]["what"] == "issued report BH-1-R1"
    head = bagit.Bag(str(packed.folder)).info["Journal-Head"]
    assert head == f"{rows[-1]['hash']}:{rows[-1]['number']}"


def test_an_archive_holds_the_records_as_they_are(case: Case, tmp_path: Path) -> None:
    issue(case)
    case.do(Add((make(Document, ref="D-2", name="Late", status="received"),)))
    folder = pack(case, tmp_path / "bag", Purpose.ARCHIVE).folder
    assert "D-2" in (folder / "data/records/documents.csv").read_text("utf-8")


def test_an_exhibit_listed_after_the_issue_is_served(case: Case, tmp_path: Path) -> None:
    issue(case)
    add_exhibit(case, "document D-1")
    packed = pack(case, tmp_path / "bag")
    assert packed.left_out == ()
    assert (packed.folder / "data/records/exhibit.csv").is_file()


def test_a_picture_that_cannot_be_shown_is_told_and_the_rest_is_packed(
    case: Case, tmp_path: Path
) -> None:
    case.do(Add((make(Photo, ref="PH-2", file="photos/gone.jpg"),)))
    issue(case)
    told = pack(case, tmp_path / "bag").left_out
    assert told == ("PH-2: photos/gone.jpg is not among the originals",)


def test_the_first_page_says_what_it_shows_and_what_not(packed: Path) -> None:
    said = (packed / "data/READ-ME-FIRST.txt").read_text("utf-8")
    assert "sha256sum -c manifest-sha256.txt" in said
    assert "somebody who changes a file and writes new checksums is\nnot found" in said


HINDERING = (CaseEntry, EditedText, Edition, LabResult, Opinion, Sample)
"""Kinds of record of which a random one may keep a report from being issued, or undo that."""
KIND = st.sampled_from([kind for kind in KINDS if kind not in HINDERING])


@settings(
    max_examples=6,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
)
@given(st.lists(KIND.flatmap(records), max_size=8), st.sampled_from(Purpose))
def test_any_records_at_all_give_a_package_that_an_independent_reader_finds_valid(
    case: Case, held: list[Record], purpose: Purpose
) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(case.folder, folder / "b.case")
        with contextlib.closing(Case.open(folder / "b.case", author="R. Tennick")) as made:
            for one in held:
                with contextlib.suppress(KnownError):
                    made.do(Add((one,)))
            try:
                issue(made)
            except KnownError:
                assume(False)
            packed = pack(made, folder / "bag", purpose).folder
        assert bagit.Bag(str(packed)).validate()
        assert STRATEGY.encode() not in b"".join(
            path.read_bytes() for path in packed.rglob("*") if path.is_file()
        )
