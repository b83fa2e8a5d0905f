"""Whether a case is as it was recorded: chains, tables against the journal, originals."""

from collections.abc import Callable, Collection, Iterator, Sequence
from functools import cache
from itertools import pairwise, zip_longest
from pathlib import Path

from sqlalchemy import Connection, Engine, Table, select

from workbench.casefile import originals
from workbench.casefile.chains import links_of
from workbench.casefile.converting import SHAPES, CellError, Plain
from workbench.casefile.journal import JournalEntry, Kept
from workbench.casefile.replay import Rebuilt, replay
from workbench.casefile.sqlite import layout_of, memory_engine, page_troubles, writing
from workbench.casefile.steps import bring_up
from workbench.casefile.tables import JOURNAL, LEDGER, ORIGINAL, RECORDS
from workbench.casefile.troubles import CaseFileError, telling
from workbench.custody.chain import Head, Link, agrees, first_break, head_of
from workbench.custody.digests import digest_of
from workbench.custody.verification import Finding, Verification
from workbench.records import Record

Step = Callable[[int, int], None]

_PUT_OUT = "issued/"
_NO_HEAD = (
    "Without a head printed or sent elsewhere this cannot find that the end of the journal was "
    "cut off together with all that followed from it, or that everything was written anew; "
    "compare with a head on an issued report: --head HASH:COUNT"
)
_AFTER_HEAD = "Entries after the {} of the head given are vouched for by this case alone."
_ALWAYS = (
    "Times and names are what this computer and its user said; they prove neither.",
    "It says whether bytes are unchanged since import, not whether what they show is true.",
)


class Verifying:
    """One check of one case."""

    def __init__(self, folder: Path, engine: Engine, step: Step | None) -> None:
        """Make ready; `check` does it."""
        self._folder = folder
        self._path = folder / "case.sqlite"
        self._engine = engine
        self._step = step
        self._findings: list[Finding] = []
        self._remarks: list[str] = []
        self._checked: list[str] = []

    def check(self, heads: Sequence[Head], checked_at: str) -> Verification:
        """Return what is found; `heads` were printed or sent elsewhere before.

        Raises:
            CaseFileError: The case cannot be read at all.
        """
        journal: tuple[Link, ...] = ()
        ledger: tuple[Link, ...] = ()
        kept: tuple[Kept, ...] = ()
        try:
            with telling(self._path), self._engine.connect() as connection:
                self._check_file(connection)
                journal = self._check_chain(connection, JOURNAL, "journal entry")
                ledger = self._check_chain(connection, LEDGER, "custody ledger entry")
                kept = self._check_against_journal(connection, journal, ledger)
        except (CaseFileError, CellError) as wrong:
            self._find("case.sqlite", str(wrong))
        # the file is let go by now, so that long reading keeps nobody from writing
        self._check_files(kept)
        self._check_heads(heads, journal, ledger)
        most = max((head.count for head in heads), default=0)
        return Verification(
            findings=tuple(self._findings),
            remarks=tuple(self._remarks),
            checked=tuple(self._checked),
            limits=(_AFTER_HEAD.format(most) if heads else _NO_HEAD, *_ALWAYS),
            journal=str(head_of(journal)),
            ledger=str(head_of(ledger)),
            checked_at=checked_at,
        )

    def _find(self, where: str, wrong: str) -> None:
        self._findings.append(Finding(where, wrong))

    def _check_file(self, connection: Connection) -> None:
        for trouble in page_troubles(connection):
            self._find("case.sqlite", f"the file is damaged: {trouble}")
        expected, found = _layout(), layout_of(connection)
        for name in sorted(expected.keys() | found.keys()):
            if expected.get(name) != found.get(name):
                self._find(
                    f"case.sqlite, {name}",
                    "is missing" if name not in found
                    else "was not made by the program" if name not in expected
                    else "is not as the program made it",
                )  # fmt: skip

    def _check_chain(self, connection: Connection, table: Table, what: str) -> tuple[Link, ...]:
        links = links_of(connection, table)
        if found := first_break(links):
            self._find(f"{what} {found.seq}", found.wrong)
        for before, after in pairwise(links):
            if after.recorded_at < before.recorded_at:
                self._remarks.append(
                    f"{what} {after.seq} was recorded at {after.recorded_at}, before the one it "
                    "follows: the clock of the computer was set back"
                )
        whole = what if len(links) == 1 else what.replace("entry", "entries")
        self._checked.append(f"{len(links)} {whole}")
        return links

    def _check_against_journal(
        self, connection: Connection, journal: tuple[Link, ...], ledger: tuple[Link, ...]
    ) -> tuple[Kept, ...]:
        """Compare the tables with what the journal leads to; return the originals there are."""
        if first_break(journal):
            self._remarks.append("records were not compared: the journal itself does not hold")
            return originals.entered(connection)
        try:
            rebuilt = replay(JournalEntry.read(link) for link in journal)
        except (ValueError, TypeError, AttributeError) as wrong:
            self._find("journal", f"its entries cannot be followed: {wrong}")
            return originals.entered(connection)
        count = sum(self._check_table(connection, kind, rebuilt) for kind in RECORDS)
        self._checked.append(f"{count} records")
        self._check_ledger(ledger, rebuilt)
        self._check_names(connection, rebuilt)
        return tuple(Kept(name, digest, size) for name, digest, size, _ in rebuilt.originals)

    def _check_table(self, connection: Connection, kind: type[Record], rebuilt: Rebuilt) -> int:
        table, names = RECORDS[kind], SHAPES[kind].names
        columns = [table.c.position, *(table.c[name] for name in names)]
        rows = connection.execute(select(*columns).order_by(table.c.position))
        found = {row[1]: (row[0], dict(zip(names, row[1:], strict=True))) for row in rows}
        expected = rebuilt.rows.get(kind.noun, {})
        for place, (identifier, said) in enumerate(expected.items(), 1):
            if identifier not in found:
                self._find(_called(kind, said), "was added by the journal and is gone")
                continue
            position, held = found[identifier]
            for name in names:
                if held[name] != said[name]:
                    self._find(_called(kind, said), _differs(name, held[name], said[name]))
            if position != place:
                self._find(_called(kind, said), _differs("place", position, place))
        for identifier in found.keys() - expected.keys():
            self._find(_called(kind, found[identifier][1]), "is there, and no act added it")
        return len(found)

    def _check_ledger(self, ledger: tuple[Link, ...], rebuilt: Rebuilt) -> None:
        held = [(one.recorded_at, one.body) for one in ledger]
        for seq, (found, expected) in enumerate(zip_longest(held, rebuilt.ledger), 1):
            if found != expected:
                wrong = (
                    "is gone, and the journal has it" if found is None
                    else "is there, and the journal does not have it" if expected is None
                    else "is not what the journal says"
                )  # fmt: skip
                self._find(f"custody ledger entry {seq}", wrong)
                return

    def _check_names(self, connection: Connection, rebuilt: Rebuilt) -> None:
        rows = connection.execute(select(ORIGINAL).order_by(ORIGINAL.c.position))
        found = [tuple(row) for row in rows]
        expected = [(at, *said) for at, said in enumerate(rebuilt.originals, 1)]
        for held, said in zip_longest(found, expected):
            if held != said:
                name = (said or held or ("", ""))[1]
                self._find(f"name list, {name}", "is not what the journal says of the original")
                return

    def _check_files(self, kept: tuple[Kept, ...]) -> None:
        by_digest = {one.digest: one for one in kept}
        whole, done = sum(one.size for one in by_digest.values()), 0
        for digest, one in by_digest.items():
            self._check_file_of(one, originals.path_of(self._folder, digest))
            done += one.size
            if self._step:
                self._step(done, whole)
        self._check_put_out(kept)
        self._checked.append(f"{len(by_digest)} originals, {whole} bytes")
        for path in _strays(self._folder, by_digest.keys()):
            self._remarks.append(f"{path}: a file that no act names; an act was cut short, perhaps")

    def _check_file_of(self, kept: Kept, path: Path) -> None:
        try:
            digest = digest_of(path)
        except FileNotFoundError:
            self._find(kept.name, "the original is gone")
        except OSError as wrong:
            self._find(kept.name, f"the original cannot be read: {wrong.strerror or wrong}")
        else:
            if digest != kept.digest:
                self._find(
                    kept.name,
                    f"the original has changed since import: its SHA-256 was {kept.digest} and "
                    f"is {digest}",
                )

    def _check_put_out(self, kept: tuple[Kept, ...]) -> None:
        issued = {one.name: one for one in kept if one.name.startswith(_PUT_OUT)}
        for name, one in issued.items():
            copy = self._folder / _PUT_OUT / Path(name).name
            if not copy.is_file():
                self._remarks.append(f"{name}: is not in the folder; the originals hold it")
            elif digest_of(copy) != one.digest:
                self._find(
                    name,
                    "was edited after it was put out; the originals hold the bytes that were",
                )

        named = {Path(name).name for name in issued}
        for path in sorted((self._folder / _PUT_OUT).glob("*")):
            if path.name not in named:
                self._remarks.append(f"{_PUT_OUT}{path.name}: was not issued from this case")

    def _check_heads(
        self, heads: Sequence[Head], journal: tuple[Link, ...], ledger: tuple[Link, ...]
    ) -> None:
        for head in heads:
            if agrees(journal, head) or agrees(ledger, head):
                self._remarks.append(f"agrees with the head {head}")
            else:
                self._find(
                    f"head {head}",
                    "contradicts this case: entries were cut off or written anew since it was "
                    "printed, or it is the head of another case",
                )


@cache
def _layout() -> dict[str, str]:
    engine = memory_engine()
    with writing(engine) as connection:
        bring_up(connection, 0)
        layout = layout_of(connection)
    engine.dispose()
    return layout


def _called(kind: type[Record], said: dict[str, Plain]) -> str:
    label = " · ".join(str(said[name]) for name in kind.identity if said[name] not in (None, ""))
    return f"{kind.title[:1].lower()}{kind.title[1:]} {label}"


def _differs(name: str, found: object, expected: object) -> str:
    return f"{name} is “{found}”, the journal says “{expected}”"


def _strays(folder: Path, named: Collection[str]) -> Iterator[str]:
    root = folder / "originals"
    for path in sorted(root.rglob("*")):
        if path.is_file() and path.name not in named:
            yield path.relative_to(folder).as_posix()
