"""What a person does: said as a sentence, refused with a reason, taken back by a new act."""

import shutil
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from builders import make
from sqlalchemy import Connection, event

from workbench.casefile import CaseFileError, CaseMovedError
from workbench.desk.acts import (
    Act,
    ActRefusedError,
    Add,
    Change,
    FileToKeep,
    Keep,
    TakeIn,
    Withdraw,
)
from workbench.desk.case import Case, Doing
from workbench.desk.issuing import Enter
from workbench.records import (
    UNDONE,
    Area,
    CustodyEntry,
    Edition,
    PullOff,
    Record,
    Sample,
    Source,
    SurveyEntry,
    When,
)
from workbench.records.codes import CustodyEvent

CUSTODY = CustodyEntry(sample="S1", when=When("2026-01-02"), event=CustodyEvent.COLLECTED)


@pytest.fixture
def case(tmp_path: Path) -> Case:
    return Case.create(tmp_path / "a.case", author="Ann")


def pull(**said: Any) -> PullOff:
    return make(PullOff, **{"ref": "P12", **said})


@pytest.mark.parametrize(
    ("act", "sentence"),
    [
        (Add((pull(),)), "added pull-off P12"),
        (Add((pull(), make(Area), make(Area, ref="A2"))), "added 1 pull-off and 2 areas"),
        (Keep((FileToKeep("photos/p01.jpg", b"x"),)), "kept photos/p01.jpg"),
        (Keep((FileToKeep("a", b"x"), FileToKeep("b", b"y"))), "kept 2 files"),
        (
            TakeIn("hall.xlsx", added=(pull(), pull(ref="P13")), files=(FileToKeep("a", b"x"),)),
            "took in hall.xlsx: 2 pull-offs; a",
        ),
    ],
)
def test_an_act_is_told_as_a_sentence(case: Case, act: Act, sentence: str) -> None:
    assert case.do(act).what == sentence
    assert case.journal()[-1].what == sentence


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"note": "wet"}, "changed note of pull-off P12 from blank to wet"),
        ({"reading": "300 psi"}, "changed reading of pull-off P12 from 350 psi to 300 psi"),
        ({"reading": None}, "changed reading of pull-off P12 from 350 psi to blank"),
        ({"note": "a", "operator": "b"}, "changed operator and note of pull-off P12"),
        ({"ref": "P13"}, "changed ref of pull-off P12 from P12 to P13"),
        ({"origin": "x"}, "changed pull-off P12"),
    ],
)
def test_a_change_is_told_with_what_was_and_what_is(
    case: Case, said: dict[str, Any], sentence: str
) -> None:
    first = pull(reading="350 psi")
    case.do(Add((first,)))
    assert case.do(Change(pull(**{"reading": "350 psi", "id": first.id, **said}))).what == sentence


def test_what_is_withdrawn_stays_with_its_reason_and_can_be_brought_back(case: Case) -> None:
    case.do(Add((pull(),)))
    (held,) = case.dossier.all(PullOff)
    assert case.do(Withdraw(held, " fixture slipped ")).what == "withdrew pull-off P12"
    assert case.dossier.all(PullOff) == ()
    (gone,) = case.dossier.all(PullOff, withdrawn=True)
    assert gone.withdrawn == "fixture slipped"
    assert case.do(Change(held)).what == "brought back pull-off P12"
    assert case.dossier.all(PullOff) == (held,)


def test_an_edition_is_no_work_of_the_hand_but_for_its_signed_copy(case: Case) -> None:
    held, other = make(Edition, ref="R1", checked_by="Bo"), make(Edition, ref="R2")
    case.do(Enter(held, "checked report R1"))
    by_hand = (
        Add((other,)), Change(replace(held, checked_by="Cy")), Withdraw(held, "wrong"),
        TakeIn("a.xlsx", added=(other,)), TakeIn("a.xlsx", changed=(replace(held, form="short"),)),
    )  # fmt: skip
    for act in by_hand:
        with pytest.raises(ActRefusedError, match="is not written by hand"):
            case.do(act)
    assert case.dossier.all(Edition) == (held,)
    case.do(Change(replace(held, signed="r1-signed.pdf")))
    assert case.dossier.all(Edition)[0].signed == "r1-signed.pdf"


FIRST = pull()


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (Add(()), "nothing to add"),
        (Add((pull(),)), "there is a pull-off P12 already; use another name"),
        (Add((pull(ref="P1"), pull(ref="P1"))), "there is a pull-off P1 already"),
        (Add((make(SurveyEntry, extent="101 %"),)), r"survey entry V1: extent 101 %; 0 to 100 %"),
        (Change(FIRST), "is as it was"),
        (Change(pull(ref="P7")), "pull-off P7 is not in the case; add it"),
        (Withdraw(FIRST, "  "), "say why"),
        (Withdraw(pull(ref="P7"), "x"), "is not in the case"),
        (Keep(()), "no files to keep"),
        (TakeIn("hall.xlsx"), r"hall\.xlsx: there is nothing new in it"),
        (TakeIn("hall.xlsx", added=(pull(),)), "there is a pull-off P12 already"),
        (Add((pull(ref="P8", note="\udc80"),)), "note: .* holds a character that no text can"),
    ],
)
def test_an_act_that_would_say_something_false_is_refused_and_leaves_nothing(
    case: Case, act: Act, words: str
) -> None:
    case.do(Add((FIRST,)))
    before, heads = case.dossier.everything(withdrawn=True), case.heads
    with pytest.raises(Exception, match=words) as refused:
        case.do(act)
    assert type(refused.value).__name__ in {"ActRefusedError", "KnownError"}
    assert case.dossier.everything(withdrawn=True) == before
    assert case.heads == heads
    assert case.verify().unchanged


def test_a_record_is_not_renamed_to_a_name_that_is_taken(case: Case) -> None:
    case.do(Add((pull(), pull(ref="P13"))))
    held = case.dossier.all(PullOff)[1]
    with pytest.raises(ActRefusedError, match="P12 already"):
        case.do(Change(replace(held, ref="P12")))


def test_a_withdrawn_record_keeps_its_name_and_an_undone_one_gives_it_back(case: Case) -> None:
    case.do(Add((pull(),)))
    case.undo()
    case.do(Add((pull(),)))
    case.do(Withdraw(case.dossier.all(PullOff)[0], "void"))
    with pytest.raises(ActRefusedError, match=r"was withdrawn \(void\) and keeps its name"):
        case.do(Add((pull(),)))
    with pytest.raises(ActRefusedError, match="withdrawn before"):
        case.do(Withdraw(case.dossier.all(PullOff, withdrawn=True)[1], "again"))


def test_undoing_is_a_new_act_that_withdraws_what_was_added(case: Case) -> None:
    case.do(Add((pull(),)))
    entry = case.undo()
    assert entry.doing is Doing.UNDO
    assert entry.of == 1
    assert entry.what == "undid: added pull-off P12"
    assert len(case.journal()) == 2
    (gone,) = case.dossier.all(PullOff, withdrawn=True)
    assert gone.withdrawn == UNDONE


def test_acts_are_undone_last_first_and_done_again_first_first(case: Case) -> None:
    case.do(Add((pull(),)))
    (first,) = case.dossier.all(PullOff)
    case.do(Change(replace(first, note="wet")))
    case.do(Withdraw(case.dossier.all(PullOff)[0], "slipped"))
    sentences: tuple[str, ...] = (
        "Withdrew pull-off P12",
        "Changed note of pull-off P12 from blank to wet",
        "Added pull-off P12",
    )
    assert case.undo_list == sentences
    states = [case.dossier.everything(withdrawn=True)]
    for _ in range(3):
        case.undo()
        states.append(case.dossier.everything(withdrawn=True))
    assert case.undo_list == ()
    assert case.redo_list == sentences[::-1]
    with pytest.raises(ActRefusedError, match="nothing to undo"):
        case.undo()
    for state in states[-2::-1]:
        case.redo()
        assert case.dossier.everything(withdrawn=True) == state
    with pytest.raises(ActRefusedError, match="nothing to do again"):
        case.redo()


def test_a_new_act_ends_what_could_be_done_again(case: Case) -> None:
    case.do(Add((pull(),)))
    case.undo()
    case.do(Add((pull(ref="P13"),)))
    assert (case.undo_list, case.redo_list) == (("Added pull-off P13",), ())


def test_what_can_be_undone_outlives_the_program(case: Case) -> None:
    case.do(Add((pull(),)))
    case.do(Add((pull(ref="P13"),)))
    case.undo()
    folder, lists = case.folder, (case.undo_list, case.redo_list)
    case.close()
    with Case.open(folder) as again:
        assert (again.undo_list, again.redo_list) == lists
        again.redo()
        again.undo()
        again.undo()
        assert again.dossier.all(PullOff) == ()


@pytest.mark.parametrize("act", [Add((CUSTODY,)), TakeIn("hall.xlsx", added=(CUSTODY,))])
def test_custody_is_not_unsaid_and_neither_is_what_came_before(case: Case, act: Act) -> None:
    case.do(Add((make(Sample, ref="S1"),)))
    case.do(act)
    assert not case.undo_list
    with pytest.raises(ActRefusedError, match="nothing to undo"):
        case.undo()
    case.do(Add((pull(),)))
    assert case.undo_list == ("Added pull-off P12",)


def test_a_custody_entry_is_neither_changed_nor_withdrawn(case: Case) -> None:
    case.do(Add((CUSTODY,)))
    (held,) = case.dossier.all(CustodyEntry)
    for act in (Change(replace(held, place="van")), Withdraw(held, "wrong")):
        with pytest.raises(ActRefusedError, match="add an entry that corrects it"):
            case.do(act)


def test_two_custody_entries_may_say_the_same(case: Case) -> None:
    case.do(Add((CUSTODY,)))
    case.do(Add((replace(CUSTODY, id="other"),)))
    assert len(case.dossier.all(CustodyEntry)) == 2


def test_a_custody_entry_carries_when_it_was_recorded_at_once_and_after_opening(case: Case) -> None:
    entry = case.do(Add((CUSTODY,)))
    (now,) = case.dossier.all(CustodyEntry)
    assert now.recorded_at == entry.recorded_at
    folder, lines = case.folder, case.ledger()
    case.close()
    with Case.open(folder) as again:
        (later,) = again.dossier.all(CustodyEntry)
    assert later.recorded_at == lines[0].recorded_at == entry.recorded_at


def test_keeping_a_file_neither_can_be_undone_nor_ends_undoing(case: Case) -> None:
    case.do(Add((pull(),)))
    case.do(Keep((FileToKeep("a.jpg", b"x"),)))
    assert case.undo_list == ("Added pull-off P12",)
    case.undo()
    assert case.original("a.jpg") is not None


def test_the_journal_says_who_when_what_and_why(case: Case) -> None:
    case.do(Add((pull(reading="350 psi"),), why="site visit of 3 March"))
    (held,) = case.dossier.all(PullOff)
    case.do(Change(replace(held, note="wet"), why="from the photograph"))
    first, second = case.journal()
    assert (first.who, first.why) == ("Ann", "site visit of 3 March")
    assert first.recorded_at.endswith("+00:00")
    assert first.changes[0].before is None
    assert first.changes[0].after["reading"] == "350 psi"
    assert second.changes[0].before == {"note": ""}
    assert second.changes[0].after == {"note": "wet"}


def test_the_history_of_a_record_tells_every_act_that_touched_it(case: Case) -> None:
    case.do(Add((pull(), make(Area))))
    (held,) = case.dossier.all(PullOff)
    case.do(Add((pull(ref="P13"),)))
    case.do(Change(replace(held, note="wet")))
    lines = case.history(Source("pull_off", "P12"))
    assert [line.entry.seq for line in lines] == [1, 3]
    assert lines[1].change.after == {"note": "wet"}
    assert case.history(Source("pull_off", "P99")) == ()


def test_a_book_adds_and_changes_in_one_act_and_is_undone_as_one(case: Case) -> None:
    case.do(Add((pull(),)))
    (held,) = case.dossier.all(PullOff)
    entry = case.do(
        TakeIn("hall.xlsx", added=(pull(ref="P13"),), changed=(replace(held, note="wet"), held))
    )
    assert entry.what == "took in hall.xlsx: pull-off P13; changes to 2 pull-offs"
    assert [one.note for one in case.dossier.all(PullOff)] == ["wet", ""]
    case.undo()
    assert case.dossier.all(PullOff) == (held,)


def test_watchers_hear_which_nouns_changed_until_they_stop(case: Case) -> None:
    heard: list[frozenset[str]] = []
    unwatch = case.watch(heard.append)
    case.do(Add((pull(), make(Area))))
    case.do(Keep((FileToKeep("a.jpg", b"x"),)))
    case.undo()
    with pytest.raises(ActRefusedError):
        case.do(Add(()))
    unwatch()
    unwatch()
    case.redo()
    assert heard == [{"pull_off", "area"}, {"original"}, {"pull_off", "area"}]


def test_text_is_held_as_the_file_will_give_it_back(case: Case) -> None:
    case.do(Add((pull(note="e\u0301tage"),)))
    (now,) = case.dossier.all(PullOff)
    folder = case.folder
    case.close()
    with Case.open(folder) as again:
        assert again.dossier.all(PullOff) == (now,)
    assert now.note == "étage"


def test_an_act_is_refused_where_something_else_wrote_meanwhile(case: Case, tmp_path: Path) -> None:
    case.do(Add((pull(),)))
    shutil.copytree(case.folder, tmp_path / "b.case")
    with Case.open(tmp_path / "b.case") as other:
        other.do(Add((pull(ref="P13"),)))
    (tmp_path / "b.case" / "case.sqlite").replace(case.folder / "case.sqlite")
    case._file._engine.dispose()
    with pytest.raises(CaseMovedError, match="close it and open it again"):
        case.do(Add((pull(ref="P14"),)))


def test_an_author_who_gives_no_name_is_the_user_of_the_computer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("getpass.getuser", lambda: "ann")
    with Case.create(tmp_path / "b.case") as case:
        assert case.do(Add((make(Area),))).who == "ann"


def test_a_record_keeps_its_place_through_changes(case: Case) -> None:
    records: tuple[Record, ...] = tuple(pull(ref=f"P{number}") for number in range(5))
    case.do(Add(records))
    case.do(Change(replace(case.dossier.all(PullOff)[1], note="wet")))
    folder = case.folder
    case.close()
    with Case.open(folder) as again:
        assert [one.ref for one in again.dossier.all(PullOff)] == ["P0", "P1", "P2", "P3", "P4"]


def test_an_act_may_be_done_by_another_thread(case: Case) -> None:
    with ThreadPoolExecutor(4) as pool:
        doing = [pool.submit(case.do, Add((pull(ref=f"P{number}"),))) for number in range(12)]
    assert sorted(one.result().seq for one in doing) == list(range(1, 13))
    assert len(case.dossier.all(PullOff)) == 12
    assert case.verify().unchanged


def test_a_full_disk_is_told_and_nothing_of_the_act_is_kept(case: Case) -> None:
    case.do(Add((pull(),)))
    before = case.dossier.everything()

    @event.listens_for(case._file._engine, "begin")
    def fill(connection: Connection) -> None:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")

    big = tuple(pull(ref=f"Q{number}", note="x" * 500) for number in range(200))
    with pytest.raises(CaseFileError, match="the disk is full; make room and do it again"):
        case.do(TakeIn("book", added=big, files=(FileToKeep("a.jpg", b"x"),)))
    assert case.dossier.everything() == before
    assert len(case.journal()) == 1
    assert case.original("a.jpg") is None
    assert not [one for one in (case.folder / "originals").rglob("*") if one.is_file()]
    event.remove(case._file._engine, "begin", fill)
    assert case.verify().unchanged
