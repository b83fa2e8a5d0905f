"""A book beside a case: the same again changes nothing, and nothing is withdrawn."""

from dataclasses import replace
from pathlib import Path
from typing import Any

from builders import make
from tools.field_books import Sheets, folder, read, set_cell, small_book

from workbench.exchange.field_book.comparing import compare, counts
from workbench.exchange.field_book.files import Kept
from workbench.exchange.field_book.reading import BookReading, read_book
from workbench.records import (
    UNDONE,
    Application,
    CustodyEntry,
    Dossier,
    Location,
    PullOff,
    Quantity,
    Weather,
)


def taken_in(reading: BookReading) -> Dossier:
    return Dossier(reading.records)


def logged(*rows: list[Any]) -> Sheets:
    header = ["ref", "area", "coat", "start", "batch a"]
    return small_book() | {"applications": [header, *rows]}


def held(*rows: list[Any]) -> Sheets:
    header = ["sample", "when", "event", "to", "seal"]
    samples: list[list[Any]] = [["ref", "kind", "at"], ["S1", "film", "L1"]]
    return small_book() | {"samples": samples, "custody": [header, *rows]}


def test_the_same_book_again_changes_nothing(tmp_path: Path) -> None:
    reading = read(tmp_path, small_book())
    changes = compare(taken_in(reading), read(tmp_path, small_book()))
    assert not changes
    assert len(changes.unchanged) == len(reading.records)
    assert not changes.absent


def test_everything_is_new_to_an_empty_case(tmp_path: Path) -> None:
    reading = read(tmp_path, small_book())
    changes = compare(Dossier(), reading)
    assert changes.to_add == reading.records
    assert counts(changes.added) == "3 case entries, 3 coats, 2 areas, 2 locations, 2 pull-offs"


def test_a_changed_cell_is_one_difference_with_the_identifier_kept(tmp_path: Path) -> None:
    case = taken_in(read(tmp_path, small_book()))
    changed = read(tmp_path, set_cell(small_book(), "pull-off", "reading", 2, 0.9))
    (difference,) = compare(case, changed).changed
    assert str(difference) == "pull-off P1: reading “0.9 MPa”, was “0.8 MPa”"
    assert difference.new.id == difference.old.id


def test_where_a_row_stands_is_no_difference(tmp_path: Path) -> None:
    case = taken_in(read(tmp_path, small_book()))
    sheets = small_book()
    sheets["pull-off"][1:] = sheets["pull-off"][:0:-1]
    assert not compare(case, read(tmp_path, sheets))


def test_rows_that_went_are_told_and_stay_in_the_case(tmp_path: Path) -> None:
    case = taken_in(read(tmp_path, small_book()))
    sheets = small_book()
    del sheets["pull-off"][2]
    changes = compare(case, read(tmp_path, sheets))
    assert [one.label for one in changes.absent] == ["P2"]
    assert not changes


def test_a_sheet_that_went_and_records_of_other_origin_are_not_told_as_gone(
    tmp_path: Path,
) -> None:
    by_hand = make(Location, ref="L9", origin="entered by hand")
    case = Dossier([*read(tmp_path, small_book()).records, by_hand])
    sheets = small_book()
    del sheets["case"]
    assert not compare(case, read(tmp_path, sheets)).absent


def test_a_row_with_a_problem_is_not_told_as_gone(tmp_path: Path) -> None:
    case = taken_in(read(tmp_path, small_book()))
    broken = read(tmp_path, set_cell(small_book(), "pull-off", "breaks", 2, "B 3"))
    assert not compare(case, broken).absent


def test_a_row_whose_record_was_withdrawn_is_told_and_left(tmp_path: Path) -> None:
    records = read(tmp_path, small_book()).records
    case = Dossier(
        replace(one, withdrawn="wrong bay") if isinstance(one, PullOff) else one for one in records
    )
    changes = compare(case, read(tmp_path, small_book()))
    assert [one.label for one in changes.withdrawn] == ["P1", "P2"]
    assert not changes


def test_what_was_undone_may_come_again(tmp_path: Path) -> None:
    records = read(tmp_path, small_book()).records
    case = Dossier(replace(one, withdrawn=UNDONE) for one in records)
    assert len(compare(case, read(tmp_path, small_book())).added) == len(records)


def test_rows_that_share_their_identity_are_matched_one_by_one(tmp_path: Path) -> None:
    first: list[Any] = ["", "A1", 1, "2024-03-01", "B-1"]
    second: list[Any] = ["", "A1", 1, "2024-03-01", "B-2"]
    case = taken_in(read(tmp_path, logged(first, second)))
    assert not compare(case, read(tmp_path, logged(second, first)))
    (added,) = compare(case, read(tmp_path, logged(first, second, [*first[:4], "B-3"]))).added
    assert isinstance(added, Application)
    assert added.batch_a == "B-3"
    (changed,) = compare(case, read(tmp_path, logged(first, [*first[:4], "B-4"]))).changed
    assert [info.name for info in changed.fields] == ["batch_a"]
    assert isinstance(changed.old, Application)
    assert changed.old.batch_a == "B-2"


def test_a_record_with_a_ref_keeps_its_identity_when_its_start_changes(tmp_path: Path) -> None:
    case = taken_in(read(tmp_path, logged(["AP1", "A1", 1, "2024-03-01", "B-1"])))
    changes = compare(case, read(tmp_path, logged(["AP1", "A1", 1, "2024-03-02", "B-1"])))
    assert not changes.added
    assert [info.name for info in changes.changed[0].fields] == ["start"]


def test_a_record_may_get_its_ref_later(tmp_path: Path) -> None:
    case = taken_in(read(tmp_path, logged(["", "A1", 1, "2024-03-01", "B-1"])))
    changes = compare(case, read(tmp_path, logged(["AP1", "A1", 1, "2024-03-01", "B-1"])))
    assert not changes.added
    assert [info.name for info in changes.changed[0].fields] == ["ref"]


def test_a_changed_custody_row_becomes_an_entry_that_corrects_the_old_one(tmp_path: Path) -> None:
    row: list[Any] = ["S1", "2024-05-02 14:05", "collected", "R. Tennick", "40211"]
    case = taken_in(read(tmp_path, held(row)))
    corrected = read(tmp_path, held([*row[:4], "40212"]))
    changes = compare(case, corrected)
    assert not changes.changed
    assert not changes.absent
    (entry,) = changes.to_add
    (old,) = case.all(CustodyEntry)
    assert isinstance(entry, CustodyEntry)
    assert (entry.corrects, entry.seal) == (old.id, "40212")
    assert entry.id != old.id
    after = case.with_records([entry])
    assert not compare(after, read(tmp_path, held([*row[:4], "40212"])))


def test_a_unit_that_the_heading_gives_and_stray_spaces_are_no_difference(tmp_path: Path) -> None:
    rows: list[list[Any]] = [["time", "air C"], ["2024-05-02 08:00", 21]]
    reading = read(tmp_path, small_book() | {"weather": rows})
    by_hand = [
        replace(one, air=Quantity("21")) if isinstance(one, Weather) else one
        for one in reading.records
    ]
    by_hand = [
        replace(one, note="  first ") if isinstance(one, PullOff) and one.note else one
        for one in by_hand
    ]
    assert not compare(Dossier(by_hand), reading)


def test_a_file_that_came_later_is_a_change_by_itself(tmp_path: Path) -> None:
    photo: Sheets = small_book() | {"photos": [["file", "ref"], ["p1.txt", "PH1"]]}
    case = taken_in(read(tmp_path, photo))
    assert not compare(case, read(tmp_path, photo))
    (tmp_path / "p1.txt").write_text("a picture", "utf-8")
    reading = read(tmp_path, photo)
    changes = compare(case, reading)
    assert changes
    assert [one.name for one in changes.files] == ["book.xlsx", "p1.txt"]
    kept = {one.name: one.path for one in reading.files}
    assert not compare(case, reading, kept.get)


def with_kept(tmp_path: Path, sheets: Sheets) -> tuple[Dossier, Kept]:
    """Return a case that took in a book, and what gives the state of the book that it keeps."""
    reading = read(tmp_path, sheets)
    kept = tmp_path / "0123abcd"
    kept.write_bytes((tmp_path / "book.xlsx").read_bytes())
    return taken_in(reading), lambda name: kept if name == "book.xlsx" else None


def edited(case: Dossier, **said: Any) -> Dossier:
    """Return the case with its first pull-off changed by hand."""
    return case.with_records([replace(case.all(PullOff)[0], **said)])


def test_a_correction_made_in_the_case_is_not_taken_back_by_the_old_book(tmp_path: Path) -> None:
    case, kept = with_kept(tmp_path, small_book())
    after = edited(case, reading=Quantity("0.9", "MPa"))
    changes = compare(after, read(tmp_path, small_book()), kept)
    assert not changes
    (told,) = changes.edited
    assert told.edited == "pull-off P1: reading “0.9 MPa”, in the book still “0.8 MPa”"


def test_only_what_the_book_says_anew_is_taken_from_a_row(tmp_path: Path) -> None:
    case, kept = with_kept(tmp_path, small_book())
    after = edited(case, reading=Quantity("0.9", "MPa"))
    sheets = set_cell(small_book(), "pull-off", "note", 2, "beside the drain")
    changes = compare(after, read(tmp_path, sheets), kept)
    (new,) = changes.to_change
    assert isinstance(new, PullOff)
    assert (str(new.reading), new.note) == ("0.9 MPa", "beside the drain")
    assert [info.name for one in changes.edited for info in one.fields] == ["reading"]


def test_a_record_that_got_another_name_in_the_case_does_not_come_twice(tmp_path: Path) -> None:
    case, kept = with_kept(tmp_path, small_book())
    changes = compare(edited(case, ref="P1a"), read(tmp_path, small_book()), kept)
    assert not changes
    assert [one.old.label for one in changes.edited] == ["P1a"]
    assert not changes.absent


def test_a_custody_entry_corrected_in_the_case_is_not_corrected_back(tmp_path: Path) -> None:
    row: list[Any] = ["S1", "2024-05-02 14:05", "collected", "R. Tennick", "40211"]
    case, kept = with_kept(tmp_path, held(row))
    (old,) = case.all(CustodyEntry)
    after = case.with_records([replace(old, id="new", corrects=old.id, seal="40212")])
    changes = compare(after, read(tmp_path, held(row)), kept)
    assert not changes
    assert [one.old.id for one in changes.edited] == ["new"]


def test_a_folder_is_compared_with_its_tables_as_they_were(tmp_path: Path) -> None:
    visit = folder(tmp_path / "visit", small_book())
    case = taken_in(read_book(visit))
    before = folder(tmp_path / "before", small_book())
    after = edited(case, reading=Quantity("0.9", "MPa"))
    changes = compare(after, read_book(visit), lambda name: before / name.removeprefix("visit/"))
    assert not changes
    assert len(changes.edited) == 1


def test_a_state_of_the_book_that_cannot_be_read_is_as_none(tmp_path: Path) -> None:
    case, _ = with_kept(tmp_path, small_book())
    broken = tmp_path / "broken"
    broken.write_bytes(b"")
    after = edited(case, reading=Quantity("0.9", "MPa"))
    assert compare(after, read(tmp_path, small_book()), lambda _: broken).changed
