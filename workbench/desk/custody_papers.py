"""Papers and labels of samples: the custody form, a receipt, label sheets."""

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from workbench.desk.case import Case
from workbench.records import Dossier, KnownError, Sample

if TYPE_CHECKING:
    from workbench.report.papers import CustodyHeads

Step = Callable[[int, int], None]


def chosen(dossier: Dossier, refs: Sequence[str]) -> tuple[Sample, ...]:
    """Return the samples of `refs`, or all where none is named.

    Raises:
        KnownError: The case has no such sample.
    """
    if not refs:
        found = dossier.all(Sample)
        if not found:
            raise KnownError("the case has no samples")
        return found
    known = {one.ref: one for one in dossier.all(Sample)}
    missing = [ref for ref in refs if ref not in known]
    if missing:
        raise KnownError(f"the case has no sample {', '.join(missing)}")
    return tuple(known[ref] for ref in refs)


def write_form(
    case: Case,
    path: Path,
    refs: Sequence[str] = (),
    *,
    at: datetime,
    step: Step = lambda _done, _whole: None,
) -> Path:
    """Write the custody form of samples as a Word document and return its path.

    Raises:
        KnownError: The case has no such sample.
    """
    from workbench.report.papers import write_custody_form

    write_custody_form(
        case.dossier, path, samples=chosen(case.dossier, refs), heads=_heads(case), at=at,
        picture=case.original, step=step,
    )  # fmt: skip
    return path


def write_receipt(
    case: Case, path: Path, refs: Sequence[str], *, receiver: str, at: datetime
) -> Path:
    """Write the receipt for samples as a Word document and return its path.

    Raises:
        KnownError: The case has no such sample.
    """
    from workbench.report import papers

    papers.write_receipt(
        case.dossier, path, samples=chosen(case.dossier, refs), receiver=receiver,
        heads=_heads(case), at=at,
    )  # fmt: skip
    return path


def write_label_sheet(
    case: Case, path: Path, refs: Sequence[str] = (), *, stock: str = "a4-21", first_place: int = 1
) -> Path:
    """Write the labels of samples as a PDF and return its path.

    Args:
        case: The case.
        path: Where to.
        refs: Samples; all where none is named.
        stock: Short name of the label sheet or roll.
        first_place: The first unused place of the first sheet, from 1.

    Raises:
        KnownError: There is no such sample, stock or place.
    """
    from workbench.exchange.labels import (
        label_words,
        stocks,
        write_labels,
    )

    kinds = stocks()
    if stock not in kinds:
        raise KnownError(f"no label stock “{stock}”; there are {', '.join(kinds)}")
    samples = chosen(case.dossier, refs)
    words = [label_words(case.dossier, one) for one in samples]
    try:
        write_labels(path, words, kinds[stock], first_place=first_place - 1)
    except ValueError as wrong:
        raise KnownError(str(wrong)) from wrong
    return path


def _heads(case: Case) -> "CustodyHeads":
    from workbench.report.papers import CustodyHeads

    head = case.heads.ledger
    return CustodyHeads(head.count, head.hash)
