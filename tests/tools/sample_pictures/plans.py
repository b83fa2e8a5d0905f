"""Site plans: drawn to a scale that the two points of the `plan` sheet give."""

from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw

from tools.sample_pictures.canvas import MARK, font

_INK, _GREY, _PAPER = (34, 38, 43), (120, 126, 130), (255, 255, 255)
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """Where the plan's origin lies in the picture, and how many pixels a metre has."""

    x0: int
    y0: int
    per_metre: float

    def at(self, x: float, y: float) -> tuple[int, int]:
        """Return the pixel of a point in metres; y runs up the page."""
        return round(self.x0 + x * self.per_metre), round(self.y0 - y * self.per_metre)

    def box(self, area: Box) -> tuple[int, int, int, int]:
        """Return the pixels of a rectangle given as x, y, width and height in metres."""
        x, y, width, height = area
        left, top = self.at(x, y + height)
        right, bottom = self.at(x + width, y)
        return left, top, right, bottom


class Plan:
    """A sheet of paper with a plan on it."""

    def __init__(self, size: tuple[int, int], scale: Scale, title: str) -> None:
        """Start an empty sheet with its title and the mark that it is invented."""
        self.image = Image.new("RGB", size, _PAPER)
        self.draw = ImageDraw.Draw(self.image)
        self.scale = scale
        self.draw.text((scale.x0, 16), title, font=font(26, bold=True), fill=_INK)
        mark = MARK.replace("drawn, not photographed", "a made-up plan")
        self.draw.text((scale.x0, size[1] - 34), mark, font=font(18), fill=_GREY)

    def room(self, area: Box, *, name: str = "", wall: int = 3, fill: str | None = None) -> None:
        """Draw an outline, named in its upper left corner."""
        left, top, right, bottom = self.scale.box(area)
        self.draw.rectangle((left, top, right, bottom), outline=_INK, width=wall, fill=fill)
        self.draw.text((left + 18, top + 10), name, font=font(20), fill=_GREY)

    def plant(self, area: Box, name: str, *, fill: str = "#DDE3E6") -> None:
        """Draw something that stands on the floor, named within."""
        box = self.scale.box(area)
        self.draw.rectangle(box, outline=_GREY, width=2, fill=fill)
        if not name:
            return
        upright = area[3] > area[2]
        words = Image.new("L", (14 * len(name), 24))
        ImageDraw.Draw(words).text((0, 1), name, font=font(15), fill=255)
        words = words.crop(words.getbbox())
        words = words.rotate(90, expand=True) if upright else words
        at = ((box[0] + box[2] - words.width) // 2, (box[1] + box[3] - words.height) // 2)
        self.image.paste(Image.new("RGB", words.size, _INK), at, words)

    def line(self, points: Sequence[tuple[float, float]], *, colour: str, width: int = 4) -> None:
        """Draw a line through points in metres."""
        self.draw.line([self.scale.at(x, y) for x, y in points], fill=colour, width=width)

    def note(self, x: float, y: float, words: str) -> None:
        """Write words with their left end at a point in metres."""
        self.draw.text(self.scale.at(x, y), words, font=font(17), fill=_INK)

    def cross(self, x: float, y: float, words: str) -> None:
        """Mark a point that the scale is taken from."""
        u, v = self.scale.at(x, y)
        self.draw.line((u - 14, v, u + 14, v), fill="#B5432A", width=2)
        self.draw.line((u, v - 14, u, v + 14), fill="#B5432A", width=2)
        self.draw.text((u + 8, v + 8), words, font=font(15), fill="#B5432A")

    def north(self, at: tuple[int, int]) -> None:
        """Draw a north arrow; up is north."""
        x, y = at
        self.draw.polygon(((x, y - 44), (x - 14, y + 10), (x, y), (x + 14, y + 10)), fill=_INK)
        self.draw.text((x - 8, y + 14), "N", font=font(20, bold=True), fill=_INK)

    def bar(self, at: tuple[int, int], metres: int) -> None:
        """Draw a scale bar of so many metres."""
        x, y = at
        end = x + round(metres * self.scale.per_metre)
        self.draw.line((x, y, end, y), fill=_INK, width=4)
        for k in (x, end):
            self.draw.line((k, y - 8, k, y + 8), fill=_INK, width=3)
        self.draw.text((end + 10, y - 12), f"{metres} m", font=font(18), fill=_INK)
