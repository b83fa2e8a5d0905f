"""The frame of every picture: mark, identity card, scale bar, and the time it says it shows."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import matplotlib as mpl
import numpy as np
from PIL import Image, ImageDraw, ImageFont

from tools.sample_pictures.texture import Field

SIZE = (1200, 900)
MARK = "Invented illustration: drawn, not photographed"
_DATE_TIME_ORIGINAL, _EXIF_POINTER, _DESCRIPTION = 0x9003, 0x8769, 0x010E


@dataclass(frozen=True, slots=True)
class Card:
    """What stands on the identity card in the picture.

    Attributes:
        case: Reference of the case.
        ref: Reference of the picture.
        at: Where it was taken.
        taken: ISO date and time.
        caption: What it shows.
    """

    case: str
    ref: str
    at: str
    taken: str
    caption: str


@cache
def font(size: int, *, bold: bool = False) -> ImageFont.FreeTypeFont:
    """Return the typeface of all lettering, the one that matplotlib brings along."""
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return ImageFont.truetype(str(Path(mpl.get_data_path()) / "fonts" / "ttf" / name), size)


def image_of(picture: Field) -> Image.Image:
    """Return the picture as an image."""
    return Image.fromarray(np.clip(picture, 0, 255).astype(np.uint8))


def framed(image: Image.Image, card: Card, *, card_at: tuple[int, int] = (24, 24)) -> Image.Image:
    """Return `image` with its identity card and the mark that it is a drawing."""
    whole = image.convert("RGB").resize(SIZE, Image.Resampling.LANCZOS)
    draw = ImageDraw.Draw(whole)
    x, y = card_at
    draw.rectangle((x + 4, y + 5, x + 264, y + 111), fill=(60, 60, 58))
    draw.rectangle((x, y, x + 260, y + 106), fill=(247, 246, 240), outline=(40, 40, 40), width=2)
    draw.text((x + 12, y + 8), card.case, font=font(20, bold=True), fill=(30, 30, 30))
    draw.text((x + 12, y + 38), f"{card.ref}   {card.at}", font=font(22), fill=(30, 30, 30))
    draw.text((x + 12, y + 72), card.taken, font=font(18), fill=(30, 30, 30))
    draw.rectangle((0, SIZE[1] - 34, *SIZE), fill=(32, 36, 40))
    draw.text((16, SIZE[1] - 30), MARK, font=font(19), fill=(250, 250, 247))
    return whole


def scale_bar(
    draw: ImageDraw.ImageDraw, at: tuple[int, int], pixels: int, words: str, parts: int = 5
) -> None:
    """Draw a bar of black and white parts, `pixels` long, with what it stands for."""
    x, y = at
    draw.rectangle((x - 8, y - 8, x + pixels + 8, y + 46), fill=(247, 246, 240))
    for k in range(parts):
        left, right = x + pixels * k // parts, x + pixels * (k + 1) // parts
        fill = (25, 25, 25) if k % 2 == 0 else (250, 250, 250)
        draw.rectangle((left, y, right, y + 13), fill=fill, outline=(25, 25, 25))
    draw.text((x, y + 18), words, font=font(20), fill=(25, 25, 25))


def save(image: Image.Image, path: Path, card: Card, *, quality: int = 80) -> None:
    """Write the picture as JPEG with its time and caption in EXIF."""
    exif = Image.Exif()
    exif[_DESCRIPTION] = f"{MARK}. {card.caption}".encode("ascii", "replace").decode()
    stamp = card.taken.replace("-", ":")
    exif.get_ifd(_EXIF_POINTER)[_DATE_TIME_ORIGINAL] = f"{stamp}:00"
    path.parent.mkdir(parents=True, exist_ok=True)
    image.save(path, quality=quality, exif=exif, optimize=True)
