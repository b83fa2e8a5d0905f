"""Photographs on the desk: taking in hundreds, and finding out where each was taken."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from workbench.desk.acts import FileToKeep, TakeIn
from workbench.desk.case import Case, Step
from workbench.records import Dossier, KnownError, Photo, Problem, Sample, When

if TYPE_CHECKING:
    from workbench.exchange.photographs import Photograph

FOLDER = "photos"
NEAR = timedelta(minutes=15)
"""How far apart in time two photographs may be and still show the same place; a habit, no source.

A person photographs place, zone and detail one after the other."""


@dataclass(frozen=True, slots=True)
class PhotoIntake:
    """Photographs that were read for a case.

    Attributes:
        records: A record for each new photograph, in the order they were taken.
        files: The files to keep.
        known: Names of files that the case keeps already, bit by bit the same.
        problems: Files that are no photographs.
    """

    records: tuple[Photo, ...]
    files: tuple[FileToKeep, ...]
    known: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    def act(self) -> TakeIn:
        """Return the act that takes them in."""
        number = len(self.records)
        name = "1 photograph" if number == 1 else f"{number} photographs"
        return TakeIn(source=name, added=self.records, files=self.files)


def read_photographs(case: Case, paths: Iterable[Path], step: Step | None = None) -> PhotoIntake:
    """Return what taking in the pictures at `paths` would add to `case`.

    Folders stand for the pictures in them. The same picture is not taken in twice, whatever its
    name.

    Raises:
        KnownError: There is no picture among them.
    """
    files = pictures_in(paths)
    if not files:
        raise KnownError("there is no picture among these; take JPEG, PNG or TIFF files")
    sorter = _Sorter({kept.digest for kept in case.originals})
    for at, path in enumerate(files):
        if step:
            step(at, len(files))
        sorter.take(path)
    records, kept = _named(case, sorter.fresh)
    return PhotoIntake(records, kept, tuple(sorter.known), tuple(sorter.problems))


class _Sorter:
    """Parts new pictures from those that the case has, and from what is no picture."""

    def __init__(self, held: set[str]) -> None:
        self._held = held
        self.fresh: list[Photograph] = []
        self.known: list[str] = []
        self.problems: list[Problem] = []

    def take(self, path: Path) -> None:
        from workbench.custody.digests import digest_of
        from workbench.exchange.photographs import NoPictureError, read_photograph

        try:
            read, digest = read_photograph(path), digest_of(path)
        except (NoPictureError, OSError) as wrong:
            right = "take in a JPEG, PNG or TIFF"
            self.problems.append(Problem(path.name, "", str(wrong), right, hinders=False))
            return
        if digest in self._held:
            self.known.append(path.name)
        else:
            self._held.add(digest)
            self.fresh.append(read)


def _named(
    case: Case, read: "list[Photograph]"
) -> tuple[tuple[Photo, ...], tuple[FileToKeep, ...]]:
    """Return records and files of new pictures, numbered in the order they were taken."""
    zone = case.dossier.zone
    read.sort(key=lambda one: (one.taken.start(zone).timestamp() if one.taken else 0, one.path))
    names = {kept.name.casefold() for kept in case.originals}
    first = _last_number(case.dossier) + 1
    records, files = [], []
    for number, one in enumerate(read, first):
        name = _free_name(one.path, names)
        origin = f"photograph {one.path.name}" + (f", {one.camera}" if one.camera else "")
        ref = f"PH-{number:02d}"
        records.append(
            Photo(file=name, ref=ref, taken=one.taken, direction=one.direction, origin=origin)
        )
        files.append(FileToKeep(name, one.path))
    return tuple(records), tuple(files)


def pictures_in(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Return the pictures among `paths` and in the folders among them, by name."""
    from workbench.exchange.photographs import SUFFIXES

    found: list[Path] = []
    for path in paths:
        inside = sorted(path.rglob("*")) if path.is_dir() else [path]
        found += [one for one in inside if one.suffix.lower() in SUFFIXES and one.is_file()]
    return tuple(dict.fromkeys(found))


def _last_number(dossier: Dossier) -> int:
    """Return the highest number among the refs of photographs."""
    refs = (re.fullmatch(r"PH-(\d+)", one.ref) for one in dossier.all(Photo, withdrawn=True))
    return max((int(found[1]) for found in refs if found), default=0)


def _free_name(path: Path, names: set[str]) -> str:
    """Return a name below `photos/` that no original has."""
    stem, suffix, number = path.stem, path.suffix.lower(), 1
    name = f"{FOLDER}/{stem}{suffix}"
    while name.casefold() in names:
        number += 1
        name = f"{FOLDER}/{stem}-{number}{suffix}"
    names.add(name.casefold())
    return name


@dataclass(frozen=True, slots=True)
class Proposal:
    """A place that a photograph was probably taken at.

    Attributes:
        photo: The photograph, which has no place yet.
        at: The place.
        because: Why, in words.
    """

    photo: Photo
    at: str
    because: str

    @property
    def placed(self) -> Photo:
        """The photograph with its place."""
        return replace(self.photo, at=self.at)


def proposals(dossier: Dossier, near: timedelta = NEAR) -> tuple[Proposal, ...]:
    """Return where photographs without a place were probably taken.

    The place is that of the photograph or sample nearest in time, if it is near enough.
    """
    zone = dossier.zone
    anchors = [
        (moment, one.at, what)
        for what, one in _placed(dossier)
        if (moment := _moment(one.taken, zone)) and one.at
    ]
    found = []
    for photo in dossier.all(Photo):
        taken = None if photo.at else _moment(photo.taken, zone)
        best = _nearest(anchors, taken) if taken else None
        if taken and best and abs(best[0] - taken) <= near:
            found.append(Proposal(photo, best[1], _because(taken - best[0], best[2])))
    return tuple(found)


def _placed(dossier: Dossier) -> Iterator[tuple[str, Photo | Sample]]:
    yield from ((f"photograph {title_of(one)}", one) for one in dossier.all(Photo))
    yield from ((f"sample {one.ref}", one) for one in dossier.all(Sample))


def _nearest(
    anchors: list[tuple[datetime, str, str]], taken: datetime
) -> tuple[datetime, str, str] | None:
    return min(anchors, key=lambda one: abs(one[0] - taken), default=None)


def _moment(when: When | None, zone: tzinfo) -> datetime | None:
    """Return a time of the clock; None where only a day or less is known."""
    return when.start(zone) if when and when.precision == "time" else None


def _because(apart: timedelta, what: str) -> str:
    minutes = round(abs(apart).total_seconds() / 60)
    side = "after" if apart >= timedelta() else "before"
    return f"taken {minutes} min {side} {what}"


def title_of(photo: Photo) -> str:
    """Return what a person calls a photograph: its ref, else the name of its file."""
    return photo.ref or PurePath(photo.file).name
