"""Micrographs: their size, and their pixels."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

MOST_PIXELS = 120_000_000


def size_of(path: Path) -> tuple[int, int]:
    """Return width and height of a picture as it is shown.

    Raises:
        ValueError: It is no picture, or far larger than a micrograph.
        OSError: It cannot be read.
    """
    with _opened(path) as image:
        width, height = image.size
        turned = image.getexif().get(0x0112, 1) in (5, 6, 7, 8)
    return (height, width) if turned else (width, height)


def pixels_of(path: Path) -> NDArray[np.uint8]:
    """Return a picture as it is shown, shape (rows, columns, 3).

    Raises:
        ValueError: It is no picture, or far larger than a micrograph.
        OSError: It cannot be read.
    """
    with _opened(path) as image:
        return np.asarray(ImageOps.exif_transpose(image).convert("RGB"), dtype=np.uint8)


def _opened(path: Path) -> Image.Image:
    try:
        image = Image.open(path)
    except UnidentifiedImageError as wrong:
        raise ValueError(f"{path.name} is no picture that can be read") from wrong
    if image.size[0] * image.size[1] > MOST_PIXELS:
        image.close()
        raise ValueError(f"{path.name} has more than {MOST_PIXELS:,} pixels")
    return image
