"""Pictures as they go into a document: upright, of a sensible size, without what they would tell.

The original is never touched. A photograph that needs no change is taken over without loss, only
its metadata (place, camera, file name) left out; the rest is decoded, turned and scaled.
"""

import io
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from matplotlib.colors import to_rgba
from matplotlib.figure import Figure as Drawing
from PIL import Image, ImageOps, UnidentifiedImageError

from workbench.figures.look import LIGHT

MOST_PIXELS = 150_000_000
"""A larger picture is refused: decoded it would take more than half a gigabyte."""
LONGEST_SIDE = 1800
_ORIENTATION = 0x0112
_JPEG_END = b"\xff\xd9"
_PRIVATE_SEGMENTS = frozenset((0xE1, *range(0xE3, 0xEE), 0xEF, 0xFE))
"""APP1 (Exif, XMP), other application segments and comments; JFIF, colour profile and the colour
transform (APP0, APP2, APP14) stay."""


class PictureError(ValueError):
    """A picture that cannot be shown; the text says why."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A picture as it goes into the document.

    Attributes:
        blob: Its bytes.
        ending: "jpg" or "png".
        size_px: Width and height.
        done: What was done to the original, in words.
    """

    blob: bytes
    ending: str
    size_px: tuple[int, int]
    done: tuple[str, ...] = ()


def prepare_photo(path: Path, longest: int = LONGEST_SIDE) -> Prepared:
    """Return a photograph ready for print, its metadata removed.

    Raises:
        PictureError: It is damaged, too large, or no picture.
    """
    try:
        blob = path.read_bytes()
    except OSError as wrong:
        raise PictureError(f"the file cannot be read ({wrong.strerror})") from wrong
    return prepare_bytes(blob, longest)


def prepare_bytes(blob: bytes, longest: int = LONGEST_SIDE) -> Prepared:
    """Return picture bytes ready for print, their metadata removed.

    Raises:
        PictureError: They are damaged, too large, or no picture.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(blob)) as opened:
                return _prepared(opened, blob, longest)
    except Image.DecompressionBombError as wrong:
        raise PictureError("the picture is too large to be opened safely") from wrong
    except UnidentifiedImageError as wrong:
        raise PictureError("the file is not a picture of a known kind") from wrong
    except (OSError, ValueError, SyntaxError, EOFError, IndexError) as wrong:
        if isinstance(wrong, PictureError):
            raise
        raise PictureError("the picture is damaged and cannot be shown") from wrong


def _prepared(opened: Image.Image, blob: bytes, longest: int) -> Prepared:
    width, height = opened.size
    if width * height > MOST_PIXELS:
        raise PictureError(f"the picture is too large to be shown ({width} × {height} pixels)")
    upright = opened.getexif().get(_ORIENTATION, 1) == 1
    if opened.format == "JPEG" and upright and max(opened.size) <= longest:
        stripped = _without_metadata(blob)
        if stripped and opened.mode in ("RGB", "L"):
            return Prepared(stripped, "jpg", opened.size)
    return _redrawn(opened, longest, turned=not upright)


def _redrawn(opened: Image.Image, longest: int, *, turned: bool) -> Prepared:
    flat = opened.format == "PNG" and opened.mode in ("P", "1", "L", "RGB", "RGBA", "LA")
    before = opened.size
    if opened.format == "JPEG":
        opened.draft("RGB", (longest, longest))
    drawn = ImageOps.exif_transpose(opened)
    drawn = _on_white(drawn)
    drawn.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    done = ["turned upright"] if turned else []
    if max(drawn.size) < max(before):
        done.append(f"scaled from {before[0]} × {before[1]} pixels")
    out = io.BytesIO()
    if flat:
        drawn.save(out, "PNG")
    else:
        drawn.save(out, "JPEG", quality=88, optimize=False)
    return Prepared(out.getvalue(), "png" if flat else "jpg", drawn.size, tuple(done))


def _on_white(picture: Image.Image) -> Image.Image:
    if picture.mode in ("RGBA", "LA", "P", "PA"):
        clear = picture.convert("RGBA")
        ground = Image.new("RGB", clear.size, "white")
        ground.paste(clear, mask=clear.getchannel("A"))
        return ground
    return picture if picture.mode in ("RGB", "L") else picture.convert("RGB")


def _without_metadata(blob: bytes) -> bytes:
    """Return a JPEG without its private segments; nothing where it does not read as one."""
    if not blob.startswith(b"\xff\xd8") or _JPEG_END not in blob[-4096:]:
        return b""
    kept = [b"\xff\xd8"]
    at = 2
    while at + 4 <= len(blob) and blob[at] == 0xFF:
        marker = blob[at + 1]
        if marker == 0xDA:
            end = blob.rindex(_JPEG_END) + len(_JPEG_END)
            return _as_jfif(b"".join((*kept, blob[at:end])))
        length = int.from_bytes(blob[at + 2 : at + 4], "big") + 2
        if marker not in _PRIVATE_SEGMENTS:
            kept.append(blob[at : at + length])
        at += length
    return b""


_JFIF = bytes.fromhex("ffe000104a46494600010100004800480000")


def _as_jfif(blob: bytes) -> bytes:
    """Return a JPEG whose first segment says JFIF, as some readers ask."""
    return blob if blob[2:4] == b"\xff\xe0" else blob[:2] + _JFIF + blob[2:]


def draw_png(
    draw: Callable[[Drawing], object], size_mm: tuple[float, float], dpi: int = 200
) -> Prepared:
    """Return a drawn figure as a PNG; the same bytes for the same records."""
    drawing = Drawing(figsize=(size_mm[0] / 25.4, size_mm[1] / 25.4))
    draw(drawing)
    _on_paper(drawing)
    out = io.BytesIO()
    drawing.savefig(
        out, format="png", dpi=dpi, metadata={"Software": None}, pil_kwargs={"compress_level": 3}
    )
    width, height = (int(side * dpi / 25.4) for side in size_mm)
    return Prepared(out.getvalue(), "png", (width, height))


def _on_paper(drawing: Drawing) -> None:
    """Give a drawing the white of the page in the place of the screen's paper."""
    screen = to_rgba(LIGHT.paper)
    drawing.set_facecolor("white")
    for axes in drawing.axes:
        if axes.get_facecolor() == screen:
            axes.set_facecolor("white")


def fitted(size_px: tuple[int, int], box_mm: tuple[float, float]) -> tuple[float, float]:
    """Return the size in millimetres that fills the box without stretching or coarse pixels."""
    width, height = (max(side, 1) for side in size_px)
    largest = max(width, height) * 25.4 / 72
    scale = min(box_mm[0] / width, box_mm[1] / height, max(largest, 6.0) / max(width, height))
    return max(width * scale, 0.5), max(height * scale, 0.5)
