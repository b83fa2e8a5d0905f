"""Photographs as they are shown: caption, direction, date, and words for those who cannot see."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from workbench.records import Photo
from workbench.report.blocks import Plate, Plates
from workbench.report.draft import Draft
from workbench.report.wording import moment


def plates_of(draft: Draft, photos: Iterable[Photo]) -> Plates:
    """Return photographs as plates; where several have one ref, the later ones are numbered."""
    counts: Counter[str] = Counter()
    plates = []
    for photo in photos:
        plate = plate_of(draft, photo)
        counts[plate.ref] += 1
        again = counts[plate.ref]
        plates.append(replace(plate, ref=f"{plate.ref} ({again})") if again > 1 else plate)
    return Plates(tuple(plates))


def plate_of(draft: Draft, photo: Photo) -> Plate:
    """Return a photograph as a plate, its caption built from the log."""
    ref = photo.ref or photo.file
    where = _where(draft, photo)
    looking = f"looking {photo.direction}" if _is_bearing(photo.direction) else photo.direction
    about = "; ".join(filter(None, (where, looking, moment(photo.taken, "date not recorded"))))
    caption = f"{photo.caption or 'No caption'} ({about})"
    alt = f"Photograph {ref}: {photo.caption or 'no caption was written'}. {about}."
    return Plate(ref, photo.file, caption, alt, photo.source)


_BEARINGS = frozenset(
    (
        "north",
        "south",
        "east",
        "west",
        "north-east",
        "north-west",
        "south-east",
        "south-west",
        "up",
        "down",
    )
)


def _is_bearing(direction: str) -> bool:
    return direction.lower() in _BEARINGS


def _where(draft: Draft, photo: Photo) -> str:
    area = draft.dossier.area_at(photo.at) if photo.at else None
    if area and area.ref != photo.at:
        return f"{photo.at}, area {area.ref}"
    return f"area {photo.at}" if area else photo.at
