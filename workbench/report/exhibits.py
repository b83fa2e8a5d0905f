"""Exhibits: their numbers, what each one shows, and what is printed beside it.

An exhibit has one number for ever; one withdrawn stays in the register as withdrawn. What it
shows is named as a source is: "photo PH-03", "document DOC-1", "figure plan", "table strength".
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from workbench.records import Document, Exhibit, ExhibitKind, KnownError, LabResult, Photo, Sample
from workbench.report.blocks import Figure, Row, Section, Table, headed
from workbench.report.draft import Draft
from workbench.report.wording import short_moment
from workbench.trade.names import spoken

_SCHEME = re.compile(r"(?P<before>.*?)(?P<number>\d+)(?P<after>\D*)")
_LETTERS = re.compile(r"(?P<before>.*?)(?P<letters>[A-Z]+)")
ILLUSTRATIVE = "Illustrative aid. It is not evidence."


@dataclass(frozen=True, slots=True)
class Scheme:
    """How exhibits are numbered, as the first number shows: "AB1", "PX-001", "A".

    Attributes:
        before: What stands before the count.
        first: The first count.
        width: Digits of the count, zeros in front; 0 where it counts in letters.
        after: What stands after it.
    """

    before: str
    first: int
    width: int
    after: str = ""

    @classmethod
    def read(cls, first: str) -> "Scheme":
        """Return the scheme that a first number shows.

        Raises:
            KnownError: It ends in no number and no letter that counts on.
        """
        bare = first.strip()
        if found := _SCHEME.fullmatch(bare):
            digits = found["number"]
            width = len(digits) if digits.startswith("0") else 1
            return cls(found["before"], int(digits), width, found["after"])
        if found := _LETTERS.fullmatch(bare):
            return cls(found["before"], _from_letters(found["letters"]), 0)
        right = "write the first number, such as AB1, PX-001 or A"
        raise KnownError(f"“{first}” is no first number of exhibits; {right}")

    def label(self, index: int) -> str:
        """Return the number of the exhibit at `index`, from 0."""
        count = self.first + index
        said = _to_letters(count) if not self.width else f"{count:0{self.width}d}"
        return f"{self.before}{said}{self.after}"

    def next(self, taken: Sequence[str]) -> str:
        """Return the number after those that were ever given; withdrawn ones are not given anew."""
        given = frozenset(taken)
        index = len(given)
        while self.label(index) in given:
            index += 1
        return self.label(index)


def _from_letters(letters: str) -> int:
    count = 0
    for letter in letters:
        count = count * 26 + ord(letter) - ord("A") + 1
    return count


def _to_letters(count: int) -> str:
    letters = ""
    while count:
        count, rest = divmod(count - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


@dataclass(frozen=True, slots=True)
class Shown:
    """What an exhibit shows, and what is printed beside it.

    Attributes:
        exhibit: The exhibit.
        title: Its title.
        about: Lines of caption: what, where, when, by whom.
        file: The original it shows; empty for a drawn figure or a table.
        sha256: Digest of that original; empty where there is none.
        figure: The figure it shows.
        table: The table it shows.
        missing: Why it cannot be shown; empty where it can.
    """

    exhibit: Exhibit
    title: str
    about: tuple[str, ...] = ()
    file: str = ""
    sha256: str = ""
    figure: Figure | None = None
    table: Table | None = None
    missing: str = ""

    @property
    def is_picture(self) -> bool:
        """Whether the original is a picture that can be printed."""
        endings = (".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".bmp", ".gif")
        return Path(self.file).suffix.lower() in endings

    @property
    def legend(self) -> str:
        """What must stand on every page of it."""
        aid = self.exhibit.kind is ExhibitKind.ILLUSTRATIVE_AID
        return f"{ILLUSTRATIVE} {self.exhibit.legend}".strip() if aid else self.exhibit.legend


def in_order(exhibits: Sequence[Exhibit]) -> tuple[Exhibit, ...]:
    """Return exhibits as they are shown, those withdrawn in their places."""
    return tuple(sorted(exhibits, key=lambda one: (one.order, one.ref)))


def shown(draft: Draft, exhibit: Exhibit, sections: Sequence[Section]) -> Shown:
    """Return what an exhibit shows."""
    noun, _, label = exhibit.of.partition(" ")
    digests = {one.name: one.sha256 for one in draft.results.originals}
    if noun in ("figure", "table"):
        return _block(exhibit, noun, label, sections)
    reader = _READERS.get(noun)
    found = reader(draft, exhibit, label, digests) if reader else None
    if found is None:
        return Shown(exhibit, exhibit.name or exhibit.of, missing=f"there is no {exhibit.of}")
    return found


def _block(exhibit: Exhibit, noun: str, key: str, sections: Sequence[Section]) -> Shown:
    wanted = Figure if noun == "figure" else Table
    blocks = [b for section in sections for b in section.blocks if isinstance(b, wanted)]
    alike = [block for block in blocks if block.key.partition(" ")[0] == key]
    for block in blocks:
        if block.key == key or [block] == alike:
            title = exhibit.name or block.caption
            if isinstance(block, Figure):
                return Shown(exhibit, title, figure=block)
            return Shown(exhibit, title, table=block)
    return Shown(exhibit, exhibit.name or exhibit.of, missing=f"the report has no {noun} “{key}”")


def _photo(draft: Draft, exhibit: Exhibit, label: str, digests: Mapping[str, str]) -> Shown | None:
    photo = next((p for p in draft.dossier.all(Photo) if label in (p.ref, p.label)), None)
    if photo is None:
        return None
    area = draft.dossier.area_at(photo.at) if photo.at else None
    place = (
        f"{photo.at}, {area.name}"
        if area and photo.at != area.ref
        else (f"{area.name} ({area.ref})" if area else photo.at or "place not recorded")
    )
    about = (
        f"Photograph {photo.ref}. {photo.caption}",
        (
            f"Taken {short_moment(photo.taken, 'at a time not recorded')}; {place}; "
            f"{photo.direction or 'direction not recorded'}."
        ),
    )
    digest = digests.get(photo.file, "")
    return Shown(exhibit, exhibit.name or photo.caption, about, photo.file, digest)


def _document(
    draft: Draft, exhibit: Exhibit, label: str, digests: Mapping[str, str]
) -> Shown | None:
    document = draft.dossier.find(Document, label)
    if document is None:
        return None
    about: tuple[str, ...] = (
        (
            f"Document {document.ref}: {document.name}, from {document.sender or 'not recorded'}, "
            f"dated {short_moment(document.dated)}, received {short_moment(document.received)}."
        ),
    )
    if not document.file:
        about = (*about, "The case holds no file of it; the paper itself is the exhibit.")
    digest = digests.get(document.file, "")
    return Shown(exhibit, exhibit.name or document.name, about, document.file, digest)


def _sample(
    draft: Draft, exhibit: Exhibit, label: str, _digests: Mapping[str, str]
) -> Shown | None:
    sample = draft.dossier.find(Sample, label)
    if sample is None:
        return None
    about = (
        (
            f"Sample {sample.ref}: {spoken(sample.kind.value)}, "
            f"from {sample.at or 'not recorded'}, taken {short_moment(sample.taken)} "
            f"by {sample.taken_by or 'a person not recorded'}; "
            f"seal {sample.seal or 'not recorded'}."
        ),
        "The thing itself is the exhibit; its custody is in the report.",
    )
    return Shown(exhibit, exhibit.name or f"Sample {sample.ref}", about)


def _result(draft: Draft, exhibit: Exhibit, label: str, digests: Mapping[str, str]) -> Shown | None:
    result = draft.dossier.find(LabResult, label)
    if result is None or not result.file:
        return None
    about = (f"Record behind laboratory result {result.ref} on sample {result.sample}.",)
    digest = digests.get(result.file, "")
    return Shown(exhibit, exhibit.name or f"Record {result.file}", about, result.file, digest)


_READERS = {"photo": _photo, "document": _document, "sample": _sample, "lab_result": _result}


def register(draft: Draft, sections: Sequence[Section]) -> Table:
    """Return the register of exhibits, those withdrawn with their numbers and the reason."""
    held = in_order(draft.dossier.all(Exhibit, withdrawn=True))
    heads = ("No.", "Exhibit", "Kind", "Of", "Pages", "Page numbers", "State", "SHA-256")
    columns = headed(*heads)
    rows = tuple(_row(shown(draft, one, sections)) for one in held)
    return Table("exhibits", "Register of exhibits", columns, rows, turns=True)


def _of(exhibit: Exhibit) -> str:
    """Return what an exhibit shows: a record by its ref, a figure or a table of the report."""
    noun = exhibit.of.partition(" ")[0]
    return f"{noun} of the report" if noun in ("figure", "table") else exhibit.of


def _row(one: Shown) -> Row:
    exhibit = one.exhibit
    first, last = exhibit.first_page, exhibit.last_page
    pages = (first if first == last else f"{first} to {last}") if first else "–"
    state = (
        f"withdrawn: {exhibit.withdrawn}"
        if exhibit.withdrawn
        else (exhibit.status.value if exhibit.status else "listed")
    )
    cells = (
        exhibit.ref,
        one.title,
        spoken(exhibit.kind.value),
        _of(exhibit),
        str(exhibit.pages or 1),
        pages,
        f"{state}; {one.missing}" if one.missing else state,
        one.sha256 or "–",
    )
    return Row(cells, (exhibit.source,))
