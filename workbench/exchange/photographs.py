"""Photographs as they come from the camera: when and in which direction they were taken."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from PIL import Image, UnidentifiedImageError
from PIL.ExifTags import GPS, IFD, Base

from workbench.records import When

SUFFIXES = frozenset({".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".bmp"})
"""Endings of the files that are taken for photographs."""

_POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass(frozen=True, slots=True)
class Photograph:
    """What a picture says of itself.

    Attributes:
        path: The file.
        taken: When, by the clock of the camera; None where it does not say.
        direction: Where the camera looked, as "NE (42°)"; empty where it does not say.
        camera: Maker and model; empty where it does not say.
        size: Width and height in pixels.
    """

    path: Path
    taken: When | None
    direction: str
    camera: str
    size: tuple[int, int]


class NoPictureError(ValueError):
    """The file is no picture that can be read."""


def read_photograph(path: Path) -> Photograph:
    """Return what the picture at `path` says of itself; its pixels are not decoded.

    Time and direction stand in its Exif data (CIPA DC-008, from memory): DateTimeOriginal with its
    offset, GPSImgDirection in degrees.

    Raises:
        NoPictureError: It is no picture, or is damaged.
        OSError: It cannot be read at all.
    """
    try:
        with Image.open(path) as picture:
            exif = picture.getexif()
            inner, places = exif.get_ifd(IFD.Exif), exif.get_ifd(IFD.GPSInfo)
            camera = " ".join(str(exif.get(tag, "")).strip() for tag in (Base.Make, Base.Model))
            size = picture.size
    except (UnidentifiedImageError, Image.DecompressionBombError, SyntaxError) as wrong:
        raise NoPictureError(f"{path.name} is no picture that can be read") from wrong
    taken = inner.get(Base.DateTimeOriginal) or exif.get(Base.DateTime)
    offset = inner.get(Base.OffsetTimeOriginal) or ""
    return Photograph(
        path=path,
        taken=_when(str(taken or ""), str(offset)),
        direction=_direction(places.get(GPS.GPSImgDirection)),
        camera=camera.strip("\0 "),
        size=size,
    )


def _when(taken: str, offset: str) -> When | None:
    """Return the moment in Exif's way of writing, "2024:11:12 14:05:33"."""
    try:
        moment = datetime.strptime(taken.strip("\0 "), "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007
    except ValueError:
        return None
    text = moment.isoformat(" ", "seconds")
    try:
        return When.read(text + offset.strip("\0 "))
    except ValueError:
        return When.read(text)


def _direction(degrees: object) -> str:
    try:
        turned = float(degrees) % 360  # type: ignore[arg-type]  # a rational of Pillow, or anything
    except (TypeError, ValueError, ZeroDivisionError):
        return ""
    return f"{_POINTS[round(turned / 45) % 8]} ({turned:.0f}°)" if turned == turned else ""  # noqa: PLR0124
