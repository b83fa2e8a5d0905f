"""What of a figure can be picked, and what in it is lit up."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from matplotlib.artist import Artist

from workbench.records import Plane, Source


@dataclass(frozen=True, slots=True)
class Mark:
    """One artist and what its points stand for.

    Attributes:
        artist: A matplotlib artist; a collection of points, or one shape.
        sources: The source of each point, in the artist's order; one for a single shape.
        plane: The plane it stands for, where it stands for one.
        area: Ref of the area it stands for, where it stands for one.
    """

    artist: Artist
    sources: tuple[Source, ...] = ()
    plane: Plane | None = None
    area: str = ""


@dataclass(frozen=True, slots=True)
class Marks:
    """All that can be picked in one figure."""

    marks: tuple[Mark, ...] = ()

    def __iter__(self) -> Iterator[Mark]:
        """Return the marks one by one."""
        return iter(self.marks)

    def of_artist(self, artist: Artist) -> Mark | None:
        """Return the mark of an artist, as a pick event names it."""
        return next((mark for mark in self.marks if mark.artist is artist), None)

    def picked(self, artist: Artist, points: Iterable[int] = (0,)) -> tuple[Source, ...]:
        """Return the sources of the picked points of an artist."""
        mark = self.of_artist(artist)
        return tuple(mark.sources[at] for at in points if at < len(mark.sources)) if mark else ()

    @property
    def sources(self) -> frozenset[Source]:
        """Every source that the figure shows."""
        return frozenset(source for mark in self.marks for source in mark.sources)


@dataclass(frozen=True, slots=True)
class Selection:
    """What is chosen in the window, and lit up in every figure.

    Attributes:
        sources: Records chosen.
        areas: Refs of areas chosen.
        plane: The plane chosen.
    """

    sources: frozenset[Source] = frozenset()
    areas: frozenset[str] = frozenset()
    plane: Plane | None = None

    def __bool__(self) -> bool:
        """Return whether anything is chosen."""
        return bool(self.sources or self.areas or self.plane)

    def lights(self, source: Source, *, area: str = "", planes: Iterable[Plane] = ()) -> bool:
        """Return whether a point is lit: it meets everything chosen; all are with no choice."""
        if self.sources and source not in self.sources:
            return False
        if self.areas and area not in self.areas:
            return False
        return self.plane is None or self.plane in tuple(planes)


NOTHING_CHOSEN = Selection()
