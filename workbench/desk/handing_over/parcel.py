"""What travels: samples and all they need to be understood, with the sender's custody ledger.

In the bag, under `data/`:

- `hand-over.json`: who sends it, of which case, when, and the head of the sender's ledger;
- `records.jsonl`: one record a line, {"noun": …, "record": {field: value}};
- `ledger.jsonl`: the sender's whole custody ledger, one entry a line, with its hashes;
- `originals/…`: photographs and files of these samples, under the names that records use.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from workbench.casefile import FieldChange, LedgerLine
from workbench.casefile.converting import CellError, plain, record_of
from workbench.casefile.journal import ledger_body
from workbench.custody.chain import Head, Link, first_break, head_of, link
from workbench.exchange.bag import BagCheck
from workbench.records import BY_NOUN, CustodyEntry, KnownError, Record

FORMAT = 1


class ParcelError(KnownError):
    """A hand-over that cannot be taken as it stands."""


@dataclass(frozen=True, slots=True)
class Parcel:
    """A hand-over as it was read.

    Attributes:
        sender: Who sent it.
        case: Reference of the case.
        sent: When, by the sender's computer.
        samples: Refs of the samples that it is about.
        records: The records, custody entries not among them.
        links: The sender's custody ledger.
        files: Originals by name.
    """

    sender: str
    case: str
    sent: str
    samples: tuple[str, ...]
    records: tuple[Record, ...]
    links: tuple[Link, ...]
    files: Mapping[str, Path]

    @property
    def head(self) -> Head:
        """Head of the sender's custody ledger."""
        return head_of(self.links)

    @property
    def entries(self) -> tuple[CustodyEntry, ...]:
        """The sender's custody entries, as the ledger has them."""
        lines = (LedgerLine.read(one).record for one in self.links)
        return tuple(one for one in lines if isinstance(one, CustodyEntry))


def links_from(lines: Iterable[LedgerLine]) -> tuple[Link, ...]:
    """Return the links of a ledger, made again from what it says.

    Raises:
        ParcelError: The ledger does not make its own hashes.
    """
    links: list[Link] = []
    for line in lines:
        before = links[-1] if links else None
        made = link(before, line.recorded_at, ledger_body(FieldChange.adding(line.record)))
        if made.hash != line.hash:
            raise ParcelError(f"custody ledger entry {line.seq} does not agree with its hash")
        links.append(made)
    return tuple(links)


def records_text(records: Iterable[Record]) -> bytes:
    """Return records as lines of JSON."""
    said = ({"noun": one.noun, "record": plain(one)} for one in records)
    return _lines(said)


def ledger_text(links: Iterable[Link]) -> bytes:
    """Return the links of a ledger as lines of JSON."""
    return _lines(
        {
            "seq": one.seq,
            "recorded_at": one.recorded_at,
            "body": one.body,
            "prev": one.prev,
            "hash": one.hash,
        }
        for one in links
    )


def _lines(said: Iterable[Mapping[str, Any]]) -> bytes:
    text = "".join(json.dumps(one, ensure_ascii=False, sort_keys=True) + "\n" for one in said)
    return text.encode("utf-8")


def parcel_in(bag: BagCheck) -> Parcel:
    """Return the hand-over in a bag that was found valid.

    Raises:
        ParcelError: The bag is not valid, holds no hand-over, or the ledger in it is broken.
    """
    if not bag.valid:
        wrong = bag.problems[0] if bag.problems else "it is not valid"
        raise ParcelError(f"the hand-over was changed or is not complete: {wrong}")
    if "hand-over.json" not in bag.files:
        raise ParcelError("the bag holds no hand-over; choose the folder that the other place sent")
    try:
        about = json.loads(bag.files["hand-over.json"].read_text("utf-8"))
        if about["format"] != FORMAT:
            raise ParcelError("the hand-over is of another format; it needs a newer program")
        records = tuple(_record(line) for line in _read(bag.files["records.jsonl"]))
        links = tuple(Link(**line) for line in _read(bag.files["ledger.jsonl"]))
        parcel = Parcel(
            str(about["sender"]), str(about["case"]), str(about["sent"]),
            tuple(about["samples"]), records, links, _originals(bag),
        )  # fmt: skip
    except (KeyError, TypeError, ValueError, CellError) as wrong:
        raise ParcelError(f"the bag holds no hand-over that can be read: {wrong}") from wrong
    if broken := first_break(parcel.links):
        raise ParcelError(
            f"the sender's custody ledger breaks at entry {broken.seq}: {broken.wrong}"
        )
    return parcel


def _read(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line]


def _record(line: Mapping[str, Any]) -> Record:
    return record_of(BY_NOUN[line["noun"]], line["record"])


def _originals(bag: BagCheck) -> dict[str, Path]:
    start = "originals/"
    return {
        name.removeprefix(start): path for name, path in bag.files.items() if name.startswith(start)
    }
