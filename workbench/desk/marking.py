"""Marks on photographs: their next name, and the length that a dimension has by the scale."""

import math
import re
from collections.abc import Iterable

from workbench.records import Dossier, MarkShape, Photo, PhotoMark, Points
from workbench.trade.showing import rounded, unit_sign


def marks_of(dossier: Dossier, photo: Photo) -> tuple[PhotoMark, ...]:
    """Return the marks on a photograph, in the order they were made."""
    names = {photo.ref, photo.file, photo.label} - {""}
    return tuple(one for one in dossier.all(PhotoMark) if one.photo in names)


def next_ref(dossier: Dossier) -> str:
    """Return the ref of the next mark."""
    refs = (re.fullmatch(r"M-(\d+)", one.ref) for one in dossier.all(PhotoMark, withdrawn=True))
    last = max((int(found[1]) for found in refs if found), default=0)
    return f"M-{last + 1:02d}"


def length_of(
    mark: PhotoMark, marks: Iterable[PhotoMark], size: tuple[int, int]
) -> tuple[float, str] | None:
    """Return how long a dimension is by the scale on the same photograph; None without a scale.

    It holds in the plane of the scale only, and where the camera looked straight at it.

    Args:
        mark: The dimension.
        marks: All marks of the photograph.
        size: Width and height of the picture in pixels.

    Returns:
        The length, and its unit.
    """
    scale = next((one for one in marks if one.shape is MarkShape.SCALE and one.length), None)
    if scale is None or scale.length is None or mark.shape is not MarkShape.DIMENSION:
        return None
    of_scale = _pixels(scale.points, size)
    if of_scale <= 0:
        return None
    return scale.length.value * _pixels(mark.points, size) / of_scale, scale.length.unit


def words_of(mark: PhotoMark, marks: Iterable[PhotoMark], size: tuple[int, int]) -> str:
    """Return what is written beside a mark."""
    if mark.shape is MarkShape.SCALE and mark.length:
        return f"{mark.length} {mark.words}".strip()
    measured = length_of(mark, marks, size)
    if measured and measured[0] > 0:
        fine = 10.0 ** (math.floor(math.log10(measured[0])) - 2)
        return f"{rounded(measured[0], fine)} {unit_sign(measured[1])} {mark.words}".strip()
    return mark.words


def _pixels(points: Points, size: tuple[int, int]) -> float:
    (x0, y0), (x1, y1) = points.points[:2]
    return math.hypot((x1 - x0) * size[0], (y1 - y0) * size[1])
