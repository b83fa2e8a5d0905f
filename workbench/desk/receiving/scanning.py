"""What a scanned code stands for in this case: one sample, several, or none of them."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from workbench.records import Dossier, Sample

_MOST_LETTERS = 64
_OTHER_KEYS = str.maketrans("YZyz", "ZYzy")
"""Scanner and computer set to keyboards of different countries change Y and Z."""


class ScanKind(StrEnum):
    """What a scan was found to be."""

    SAMPLE = "sample"
    SEVERAL = "several"
    OTHER_CASE = "other case"
    UNKNOWN = "unknown"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Scan:
    """One scan and what it stands for.

    Attributes:
        kind: What it was found to be.
        text: What the scanner sent, without what is no letter.
        refs: Samples it may stand for: one, or several that look alike.
        words: A sentence for the person at the bench.
    """

    kind: ScanKind
    text: str
    refs: tuple[str, ...]
    words: str


def read_scan(dossier: Dossier, text: str) -> Scan:
    """Return what a scanned or typed code stands for.

    A code of the case's reference followed by a sample's is taken as well; voided samples keep
    their code and are told as such.
    """
    said = "".join(letter for letter in text if letter.isprintable()).strip()[:_MOST_LETTERS]
    if not said:
        return Scan(ScanKind.NOTHING, "", (), "Nothing was scanned.")
    samples = {one.ref: one for one in dossier.all(Sample, withdrawn=True)}
    refs = _refs(dossier, said, samples) or _refs(dossier, said.translate(_OTHER_KEYS), samples)
    if len(refs) > 1:
        words = f"{said} may be {' or '.join(refs)}: read the label and type the ref."
        return Scan(ScanKind.SEVERAL, said, refs, words)
    if not refs:
        return _foreign(said)
    sample = samples[refs[0]]
    if sample.withdrawn:
        words = f"{sample.ref} is void: {sample.withdrawn}"
        return Scan(ScanKind.UNKNOWN, said, (), words)
    return Scan(ScanKind.SAMPLE, said, refs, f"{sample.ref}, {sample.kind.value.replace('_', ' ')}")


def _refs(dossier: Dossier, said: str, samples: Iterable[str]) -> tuple[str, ...]:
    from workbench.exchange.labels import find_payload  # draws labels too, which takes matplotlib

    known = tuple(samples)
    return find_payload(said, known) or find_payload(_without_case(dossier, said), known)


def _without_case(dossier: Dossier, said: str) -> str:
    from workbench.exchange.labels import payload_of

    reference = dossier.entry("reference")
    if not reference or not any(letter.isalnum() for letter in reference):
        return ""
    mark = payload_of(reference)
    bare = "".join(letter for letter in said.upper() if letter.isalnum())
    return bare.removeprefix(mark) if bare.startswith(mark) else ""


def _foreign(said: str) -> Scan:
    if said.isdecimal() and len(said) >= 8:
        words = f"{said} is not a sample of this case; it reads like a carrier's or a shop's code."
        return Scan(ScanKind.OTHER_CASE, said, (), words)
    return Scan(ScanKind.UNKNOWN, said, (), f"{said} is not a sample of this case.")
