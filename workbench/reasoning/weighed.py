"""A cause weighed: its cells, before it is compared with others."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from workbench.reasoning.knowledge import Cause
from workbench.reasoning.results import Bearing, Cell
from workbench.reasoning.weighing import points_of

BARRING = (Bearing.EXCLUDES, Bearing.WOULD_EXCLUDE)


@dataclass(frozen=True)
class Weighed:
    """A cause with its cells, before it is compared with others."""

    cause: Cause
    cells: tuple[Cell, ...]
    _held: dict[str, tuple[Cell, ...]] = field(default_factory=dict, repr=False, compare=False)

    def once(self, name: str, make: Callable[[], tuple[Cell, ...]]) -> tuple[Cell, ...]:
        """Return some of the cells, picked once: a cause is compared with many others."""
        if name not in self._held:
            self._held[name] = make()
        return self._held[name]

    @cached_property
    def points(self) -> float:
        """The sum of the points that count."""
        return points_of(self.cells)

    @cached_property
    def barred(self) -> bool:
        """Whether a reading excludes the cause, or would once confirmed."""
        return any(one.bearing in BARRING for one in self.cells)

    @cached_property
    def against(self) -> tuple[Cell, ...]:
        """Counted cells against the cause that do not exclude it."""
        held = (one for one in self.cells if one.bearing is Bearing.CONTRADICTS and one.counted)
        return tuple(sorted(held, key=lambda one: one.points))

    @cached_property
    def supporting(self) -> tuple[Cell, ...]:
        """Cells for the cause, the weightiest first."""
        held = (one for one in self.cells if one.bearing is Bearing.SUPPORTS)
        return tuple(sorted(held, key=lambda one: (not one.counted, -one.points)))
