"""What a check of a case finds: one bit, one row, one line; and what it says it cannot find."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from builders import make
from cases import full_case

from workbench.casefile.troubles import CaseDamagedError, CaseFileError, CaseMovedError
from workbench.custody.chain import Head, Link, head_of, link
from workbench.custody.verification import Verification
from workbench.desk.acts import Add, Change, FileToKeep, Keep, Withdraw
from workbench.desk.case import Case, verify_case
from workbench.records import Area, CustodyEntry, PullOff, Sample, When
from workbench.records.codes import CustodyEvent

Tamper = Callable[[sqlite3.Connection], object]


ADDED_AREA = (
    "INSERT INTO area SELECT 2, 'x', origin, withdrawn, 'A9', name, condition, system, within, "
    "size, outline, features, note, level FROM area"
)


@pytest.fixture(scope="module")
def untouched(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("cases") / "a.case"
    with Case.create(folder, author="Ann") as case:
        area, pull = make(Area), make(PullOff, reading="350 psi")
        case.do(Add((area, pull, make(PullOff, ref="P2"))))
        case.do(Change(replace(pull, note="read twice")))
        case.do(Keep((FileToKeep("p1.jpg", b"one"), FileToKeep("p2.jpg", b"two" * 1000))))
        case.do(Withdraw(area, "entered twice"))
        case.undo()
        case.do(Add((make(Sample, ref="S1"),)))
        for event in (CustodyEvent.COLLECTED, CustodyEvent.SEALED, CustodyEvent.RECEIVED):
            entry = CustodyEntry(sample="S1", when=When("2026-01-02"), event=event)
            case.do(Add((entry,)))
    return folder


@pytest.fixture
def folder(untouched: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(untouched, tmp_path / "a.case"))


def tampered(folder: Path, *statements: str) -> Verification:
    """Do what somebody with a database tool would, guards and all, and check the case."""
    with closing(sqlite3.connect(folder / "case.sqlite")) as file:
        guards = file.execute("SELECT name, sql FROM sqlite_schema WHERE type='trigger'").fetchall()
        for name, _ in guards:
            file.execute(f'DROP TRIGGER "{name}"')
        for statement in statements:
            file.execute(statement)
        for _, sql in guards:
            file.execute(sql)
        file.commit()
    return verify_case(folder)


def said(found: Verification) -> str:
    return "\n".join(str(one) for one in found.findings)


def test_a_case_as_it_was_recorded_is_unchanged_and_says_what_was_compared(folder: Path) -> None:
    found = verify_case(folder)
    assert found.unchanged, said(found)
    assert found.checked == (
        "9 journal entries", "3 custody ledger entries", "4 records", "2 originals, 3003 bytes",
    )  # fmt: skip
    assert found.remarks == ()
    with Case.open(folder) as case:
        assert replace(case.verify(), checked_at="") == replace(found, checked_at="")
        assert str(case.heads.journal) == found.journal
        assert str(case.heads.ledger) == found.ledger


def test_a_full_case_is_unchanged(tmp_path: Path) -> None:
    full_case(tmp_path / "full.case")
    found = verify_case(tmp_path / "full.case")
    assert found.unchanged, said(found)


def test_every_single_flipped_bit_of_an_original_is_found_by_name(folder: Path) -> None:
    with Case.open(folder) as case:
        path = case.original("p1.jpg")
    assert path is not None
    content = path.read_bytes()
    path.chmod(0o644)
    for at in range(len(content) * 8):
        flipped = bytearray(content)
        flipped[at // 8] ^= 1 << at % 8
        path.write_bytes(flipped)
        found = verify_case(folder)
        assert [one.where for one in found.findings] == ["p1.jpg"]
        assert "changed since import" in found.findings[0].wrong
    path.write_bytes(content)
    assert verify_case(folder).unchanged


def test_a_missing_original_is_found_by_name(folder: Path) -> None:
    with Case.open(folder) as case:
        path = case.original("p2.jpg")
    assert path is not None
    path.unlink()
    assert said(verify_case(folder)) == "p2.jpg: the original is gone"


def test_a_file_that_no_act_names_is_remarked(folder: Path) -> None:
    (folder / "originals" / "stray").write_bytes(b"x")
    found = verify_case(folder)
    assert found.unchanged
    assert "originals/stray: a file that no act names" in found.remarks[0]


@pytest.mark.parametrize(
    ("statement", "expected"),
    [
        (
            "UPDATE pull_off SET reading = '300 psi' WHERE ref = 'P1'",
            "pull-off P1: reading is “300 psi”, the journal says “350 psi”",
        ),
        (
            "UPDATE pull_off SET reading = NULL WHERE ref = 'P1'",
            "pull-off P1: reading is “None”, the journal says “350 psi”",
        ),
        (
            "UPDATE area SET withdrawn = 'no'",
            "area A1: withdrawn is “no”, the journal says “”",
        ),
        ("UPDATE area SET origin = 'x'", "area A1: origin is “x”, the journal says “”"),
        (
            "UPDATE pull_off SET position = 9 WHERE ref = 'P1'",
            "pull-off P1: place is “9”, the journal says “1”",
        ),
        (
            "DELETE FROM pull_off WHERE ref = 'P2'",
            "pull-off P2: was added by the journal and is gone",
        ),
        (
            ADDED_AREA,
            "area A9: is there, and no act added it",
        ),
        ("UPDATE pull_off SET method = 'ISO 1' WHERE ref = 'P1'", "method is “ISO 1”"),
        ("UPDATE original SET name = 'p9.jpg' WHERE position = 1", "name list, p1.jpg"),
        ("DELETE FROM original WHERE position = 2", "name list, p2.jpg"),
        ("UPDATE original SET size = 4 WHERE position = 1", "name list, p1.jpg"),
        ("UPDATE original SET size = 'x' WHERE position = 1", "name list, p1.jpg"),
        ("UPDATE original SET digest = '/etc/passwd' WHERE position = 1", "name list, p1.jpg"),
        ("UPDATE original SET digest = x'00' WHERE position = 1", "name list, p1.jpg"),
        ("CREATE TABLE extra (a)", "case.sqlite, extra: was not made by the program"),
        ("ALTER TABLE area ADD COLUMN mood TEXT", "case.sqlite, area: is not as the program"),
    ],
)
def test_one_edited_row_is_found_with_what_was_there(
    folder: Path, statement: str, expected: str
) -> None:
    found = tampered(folder, statement)
    assert len(found.findings) == 1
    assert expected in said(found)


def test_a_guard_that_was_taken_away_is_found(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "case.sqlite")) as file:
        file.execute("DROP TRIGGER journal_no_update")
    assert said(verify_case(folder)) == "case.sqlite, journal_no_update: is missing"


@pytest.mark.parametrize("seq", range(1, 9))
def test_one_removed_journal_line_is_named(folder: Path, seq: int) -> None:
    found = tampered(folder, f"DELETE FROM journal WHERE seq = {seq}")  # noqa: S608
    assert f"journal entry {seq}: entry {seq} is missing" in said(found)


@pytest.mark.parametrize("seq", range(1, 9))
def test_one_removed_journal_line_is_named_where_the_rest_was_numbered_anew(
    folder: Path, seq: int
) -> None:
    found = tampered(
        folder,
        f"DELETE FROM journal WHERE seq = {seq}",  # noqa: S608
        f"UPDATE journal SET seq = seq - 1 WHERE seq > {seq}",  # noqa: S608
    )
    assert f"journal entry {seq}: entry {seq} does not follow" in said(found)


def test_the_last_journal_line_cut_off_is_found_by_what_it_left_in_the_tables(
    folder: Path,
) -> None:
    found = tampered(folder, "DELETE FROM journal WHERE seq = 9")
    expected = "custody ledger entry 3: is there, and the journal does not have it"
    assert said(found) == expected


@pytest.mark.parametrize("seq", range(1, 10))
@pytest.mark.parametrize(
    "change",
    [
        "body = replace(body, 'Ann', 'Bea')",
        "recorded_at = '2020-01-01T00:00:00.000+00:00'",
        "hash = prev",
        "prev = hash",
    ],
)
def test_an_edited_journal_line_is_named(folder: Path, seq: int, change: str) -> None:
    found = tampered(folder, f"UPDATE journal SET {change} WHERE seq = {seq}")  # noqa: S608
    assert found.findings[0].where == f"journal entry {seq}"


@pytest.mark.parametrize("table", ["journal", "custody_ledger"])
def test_swapped_lines_are_found(folder: Path, table: str) -> None:
    found = tampered(
        folder,
        f"UPDATE {table} SET seq = -1 WHERE seq = 1",  # noqa: S608
        f"UPDATE {table} SET seq = 1 WHERE seq = 2",  # noqa: S608
        f"UPDATE {table} SET seq = 2 WHERE seq = -1",  # noqa: S608
    )
    assert found.findings[0].where.endswith("entry 1")


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE custody_ledger SET body = replace(body, 'sealed', 'opened') WHERE seq = 2",
        "UPDATE custody_ledger SET recorded_at = '2020' WHERE seq = 2",
        "DELETE FROM custody_ledger WHERE seq = 2",
        "INSERT INTO custody_ledger SELECT 4, 'now', body, prev, hash FROM custody_ledger LIMIT 1",
        "UPDATE custody_ledger SET body = 'torn' WHERE seq = 1",
        "UPDATE custody_ledger SET body = x'ff' WHERE seq = 1",
    ],
)
def test_a_changed_ledger_is_found(folder: Path, statement: str) -> None:
    assert "custody ledger entry" in said(tampered(folder, statement))


@pytest.mark.parametrize("count", [0, 1, 2])
def test_a_ledger_whose_end_was_cut_off_is_found_against_the_journal(
    folder: Path, count: int
) -> None:
    found = tampered(folder, f"DELETE FROM custody_ledger WHERE seq > {count}")  # noqa: S608
    wrong = "is gone, and the journal has it"
    assert said(found) == f"custody ledger entry {count + 1}: {wrong}"


def links(folder: Path, table: str) -> list[Link]:
    with closing(sqlite3.connect(folder / "case.sqlite")) as file:
        return [Link(*row) for row in file.execute(f"SELECT * FROM {table} ORDER BY seq")]  # noqa: S608


def cut_with_all_that_follows(folder: Path) -> Verification:
    """Take back the last custody entry so that nothing in the case tells of it."""
    return tampered(
        folder,
        "DELETE FROM journal WHERE seq = 9",
        "DELETE FROM custody_ledger WHERE seq = 3",
    )


def written_anew(folder: Path, forge: Callable[[dict[str, Any]], None], *more: str) -> Verification:
    """Change what the first entry says, and reckon the whole journal anew."""
    old = links(folder, "journal")
    first = old[0].said()
    forge(first)
    new = [link(None, old[0].recorded_at, first)]
    for one in old[1:]:
        new.append(link(new[-1], one.recorded_at, one.said()))
    values = [
        f"UPDATE journal SET body='{one.body}', prev='{one.prev}', hash='{one.hash}' "  # noqa: S608
        f"WHERE seq = {one.seq}"
        for one in new
    ]
    return tampered(folder, *values, *more)


def rewritten(folder: Path) -> Verification:
    """Change what the first entry says, the whole journal after it, and the tables with it."""

    def forge(said: dict[str, Any]) -> None:
        said["changes"][1]["after"]["reading"] = "200 psi"

    return written_anew(folder, forge, "UPDATE pull_off SET reading='200 psi' WHERE ref='P1'")


@pytest.mark.parametrize(
    ("name", "value"), [("act", "burn"), ("changes", 7), ("changes", [{}]), ("kept", [7])]
)
def test_a_forged_entry_that_says_nothing_is_found(folder: Path, name: str, value: object) -> None:
    found = written_anew(folder, lambda said: said.update({name: value}))
    assert "journal: its entries cannot be followed" in said(found)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"noun": "ghost"}, "“ghost” is no type of record"),
        ({"id": "other"}, "is added twice, or changed unadded"),
        ({"before": {"note": ""}}, "is added twice, or changed unadded"),
    ],
)
def test_a_forged_entry_about_a_record_that_was_never_added_is_found(
    folder: Path, change: dict[str, Any], told: str
) -> None:
    found = written_anew(folder, lambda said: said["changes"][0].update(change))
    assert told in said(found)


@pytest.mark.parametrize("forge", [cut_with_all_that_follows, rewritten])
def test_a_whole_forgery_shows_only_against_a_head_printed_elsewhere(
    folder: Path, forge: Callable[[Path], Verification]
) -> None:
    head = head_of(links(folder, "journal"))
    alone = forge(folder)
    assert alone.unchanged, said(alone)
    assert "Without a head printed or sent elsewhere this cannot find" in alone.limits[0]
    against = verify_case(folder, [head])
    assert said(against).startswith(f"head {head}: contradicts this case")


def test_a_head_that_agrees_is_said_to_vouch_up_to_its_entry(folder: Path) -> None:
    early = head_of(links(folder, "journal")[:5])
    ledger = head_of(links(folder, "custody_ledger"))
    found = verify_case(folder, [early, Head(ledger.hash[:32], ledger.count)])
    assert found.unchanged
    assert found.remarks[0] == f"agrees with the head {early}"
    assert found.limits[0].startswith("Entries after the 5 of the head given")


def test_no_word_promises_more_than_a_chain_can(folder: Path) -> None:
    found = verify_case(folder)
    words = " ".join((*found.limits, *found.checked)).lower()
    for promise in ("authentic", "tamper-proof", "certified", "cannot be altered", "admissible"):
        assert promise not in words
    assert any("what this computer and its user said" in limit for limit in found.limits)


def test_a_clock_that_was_set_back_is_remarked(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("workbench.desk.case.now", lambda: "2001-01-01T00:00:00.000+00:00")
    with Case.open(folder) as case:
        case.do(Add((make(PullOff, ref="P3"),)))
    found = verify_case(folder)
    assert found.unchanged
    assert "the clock of the computer was set back" in found.remarks[0]


def test_a_flipped_bit_anywhere_in_the_file_is_found_or_changes_nothing_that_is_read(
    folder: Path,
) -> None:
    path = folder / "case.sqlite"
    content = path.read_bytes()
    with Case.open(folder, read_only=True) as case:
        before = (case.dossier.everything(withdrawn=True), case.journal(), case.ledger())
    found = 0
    filled = [at for at, byte in enumerate(content) if byte]
    for number, at in enumerate(filled[:: len(filled) // 120]):
        flipped = bytearray(content)
        flipped[at] ^= 1 << number % 8
        path.write_bytes(flipped)
        try:
            unchanged = verify_case(folder).unchanged
        except CaseFileError:
            unchanged = False
        if unchanged:
            with Case.open(folder, read_only=True) as case:
                after = (case.dossier.everything(withdrawn=True), case.journal(), case.ledger())
            assert after == before, at
        else:
            found += 1
    assert found > 60


def test_progress_is_told_in_bytes_of_the_originals(folder: Path) -> None:
    steps: list[tuple[int, int]] = []
    verify_case(folder, step=lambda done, whole: steps.append((done, whole)))
    assert steps[-1] == (3003, 3003)
    assert all(before[0] < after[0] for before, after in pairwise(steps))


@pytest.mark.parametrize("table", ["journal", "custody_ledger", "original"])
@pytest.mark.parametrize("what", ["UPDATE {} SET rowid = rowid + 50", "DELETE FROM {}"])
def test_the_file_itself_refuses_to_change_or_delete_what_is_recorded(
    folder: Path, table: str, what: str
) -> None:
    refused = pytest.raises(sqlite3.IntegrityError, match="entries are kept as they are")
    with closing(sqlite3.connect(folder / "case.sqlite")) as file, refused:
        file.execute(what.format(table))


@pytest.mark.parametrize("table", ["pull_off", "area", "sample"])
def test_the_file_itself_refuses_to_delete_a_record(folder: Path, table: str) -> None:
    refused = pytest.raises(sqlite3.IntegrityError, match="entries are kept as they are")
    with closing(sqlite3.connect(folder / "case.sqlite")) as file, refused:
        file.execute(f"DELETE FROM {table}")  # noqa: S608


def test_a_journal_that_cannot_be_read_is_told_as_damage(folder: Path) -> None:
    tampered(folder, "UPDATE journal SET body = '{}' WHERE seq = 3")
    with Case.open(folder) as case:
        with pytest.raises(CaseDamagedError, match="journal entry 3 cannot be read"):
            case.journal()
        with pytest.raises(CaseDamagedError, match="journal entry 3"):
            case.do(Add((make(PullOff, ref="P3"),)))


def test_nothing_is_written_after_a_journal_that_was_emptied_meanwhile(folder: Path) -> None:
    with Case.open(folder) as case:
        case.journal()
        tampered(folder, "DELETE FROM journal")
        with pytest.raises(CaseMovedError, match="something else wrote"):
            case.do(Add((make(PullOff, ref="P3"),)))


@pytest.mark.parametrize("cell", ["digest = '../../../etc/passwd'", "digest = 'AB'", "size = 'x'"])
def test_a_name_list_that_leads_out_of_the_case_is_not_followed(folder: Path, cell: str) -> None:
    tampered(folder, f"UPDATE original SET {cell} WHERE position = 1")  # noqa: S608
    with pytest.raises(CaseDamagedError, match=r"original\..* cannot be"):
        Case.open(folder)
