"""Bags: as RFC 8493 has them, verifiable with common tools, hostile ones refused."""

import shutil
import subprocess
from pathlib import Path

import pytest

from workbench.exchange.bag import BagError, read_bag, safe_name, write_bag
from workbench.records import Cancelled

INFO = [("Source-Organization", "Ann"), ("External-Identifier", "CF-7")]


@pytest.fixture
def bag(tmp_path: Path) -> Path:
    source = tmp_path / "photo.jpg"
    source.write_bytes(b"picture")
    payload: dict[str, Path | bytes] = {
        "originals/photo.jpg": source,
        "records é.jsonl": b"{}",
        "a%b.txt": b"",
        "n": b"x",
    }
    write_bag(tmp_path / "bag", payload, INFO)
    return tmp_path / "bag"


def test_a_bag_declares_itself_in_exactly_two_lines(bag: Path) -> None:
    # RFC 8493, 2.1.1
    declared = (bag / "bagit.txt").read_bytes()
    assert declared == b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"


def test_a_fresh_bag_is_complete_and_valid_and_says_its_size(bag: Path) -> None:
    found = read_bag(bag)
    assert (found.complete, found.valid, found.problems) == (True, True, ())
    assert dict(found.info)["Payload-Oxum"] == "10.4"
    assert found.info[0] == ("Source-Organization", "Ann")
    assert found.files["originals/photo.jpg"].read_bytes() == b"picture"


@pytest.mark.parametrize("algorithm", ["sha256", "sha512"])
def test_a_stranger_verifies_the_bag_with_a_common_tool(bag: Path, algorithm: str) -> None:
    program = shutil.which(f"{algorithm}sum")
    if program is None:
        pytest.skip(f"{algorithm}sum is not installed")
    (bag / "data" / "a%b.txt").unlink()
    lines = (bag / f"manifest-{algorithm}.txt").read_text("utf-8").splitlines(keepends=True)
    plain = "".join(line for line in lines if "%25" not in line)
    run = subprocess.run([program, "-c", "-"], input=plain.encode(), cwd=bag, check=False)
    assert run.returncode == 0
    (bag / "data" / "n").write_bytes(b"y")
    run = subprocess.run([program, "-c", "-"], input=plain.encode(), cwd=bag, check=False)
    assert run.returncode != 0


def test_a_changed_file_is_complete_and_not_valid(bag: Path) -> None:
    (bag / "data" / "n").write_bytes(b"y")
    found = read_bag(bag)
    assert found.complete
    assert not found.valid
    assert {problem.place for problem in found.problems} == {"data/n"}
    assert found.files == {}


def test_a_file_too_many_or_too_few_is_not_complete(bag: Path) -> None:
    (bag / "data" / "more").write_bytes(b"")
    assert not read_bag(bag).complete
    (bag / "data" / "more").unlink()
    (bag / "data" / "n").unlink()
    assert not read_bag(bag).complete


@pytest.mark.parametrize("name", ["bag-info.txt", "manifest-sha256.txt"])
def test_a_changed_tag_file_is_found(bag: Path, name: str) -> None:
    with (bag / name).open("a") as file:
        file.write("Note: more\n" if name == "bag-info.txt" else "\n")
    assert not read_bag(bag).valid


@pytest.mark.parametrize(
    "line", ["../out", "data/../../out", "/etc/passwd", "~/x", "C:/x", "data\\x", "data//x"]
)
def test_a_name_that_leaves_the_bag_is_refused(bag: Path, line: str) -> None:
    with (bag / "manifest-sha256.txt").open("a") as file:
        file.write(f"{'0' * 64}  {line}\n")
    assert not read_bag(bag).valid


def test_what_is_no_bag_or_fetches_or_links_out_is_refused(bag: Path, tmp_path: Path) -> None:
    with pytest.raises(BagError, match="no bag"):
        read_bag(tmp_path)
    (bag / "data" / "link").symlink_to(tmp_path)
    with pytest.raises(BagError, match="out of the bag"):
        read_bag(bag)
    (bag / "fetch.txt").write_text("https://example.org/ - data/x\n")
    with pytest.raises(BagError, match="fetched"):
        read_bag(bag)


def test_a_stopped_bag_leaves_nothing(tmp_path: Path) -> None:
    def stop(_done: int, _whole: int) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        write_bag(tmp_path / "bag", {"a": b"1"}, INFO, stop)
    assert list(tmp_path.iterdir()) == []


def test_an_old_bag_is_never_written_over(bag: Path) -> None:
    with pytest.raises(BagError, match="already"):
        write_bag(bag, {"a": b"1"}, INFO)


@pytest.mark.parametrize(
    ("name", "made"),
    [
        ("CON.jpg", "_CON.jpg"),
        ("a:b.jpg", "a_b.jpg"),
        ("dir\\x.txt", "dir/x.txt"),
        ("e\u0301.txt", "\u00e9.txt"),
        ("dot. ", "dot"),
    ],
)
def test_names_that_some_system_refuses_are_made_safe(name: str, made: str) -> None:
    assert safe_name(name) == made


def test_names_that_differ_only_in_case_or_form_get_a_number() -> None:
    taken: set[str] = set()
    names = ["É.txt", "E\u0301.txt", "é.TXT"]
    assert [safe_name(name, taken) for name in names] == ["É.txt", "É-2.txt", "é-3.TXT"]


@pytest.mark.parametrize("name", ["../x", "a/../../b", "", "a//b", "~/x"])
def test_a_name_that_leaves_cannot_be_put_into_a_bag(name: str) -> None:
    with pytest.raises(BagError):
        safe_name(name)
