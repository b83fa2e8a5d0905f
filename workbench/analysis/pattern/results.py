"""What a failure follows, as named results."""

from dataclasses import dataclass

from workbench.records import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What holds for one value of a grouping.

    Attributes:
        value: The value in words: "2024-03-13", "SA-774", "yes".
        failing: Refs of its failing areas.
        holding: Refs of its areas that do not fail (non-failing and control).
        pulls: Pull-offs in it on untouched film.
        broken: Mean share of their faces that broke in the plane that fails; None without pulls.
    """

    value: str
    failing: tuple[str, ...]
    holding: tuple[str, ...]
    pulls: int = 0
    broken: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """Whether failing follows one grouping.

    Attributes:
        name: The grouping in words: "day of coat 3, Seal AP".
        kind: day, wait, window, batch, crew, treatment or feature.
        tallies: Its values in their order.
        p: Exact p on whole areas, by rank where the values have an order, else of the table
            (Freeman-Halton); None where there is nothing to test.
        p_corrected: The same corrected for all groupings looked at (Holm).
        p_readings: p of permuting the readings within strata; None where too few.
        strata: What readings were only permuted within.
        looks: How many groupings were tested.
        fewest_areas: Areas needed before anything may be called significant.
        same_as: Names of groupings that split the areas in the same way: not told apart.
        sources: The records that say it.
    """

    name: str
    kind: str
    tallies: tuple[Tally, ...]
    p: float | None = None
    p_corrected: float | None = None
    p_readings: float | None = None
    strata: tuple[str, ...] = ()
    looks: int = 0
    fewest_areas: int = 6
    same_as: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def areas(self) -> int:
        """How many areas were tested."""
        return sum(len(one.failing) + len(one.holding) for one in self.tallies)

    @property
    def clean(self) -> bool:
        """Whether each value is all failing or all holding, with both kinds among them."""
        mixed = any(one.failing and one.holding for one in self.tallies)
        both = any(t.failing for t in self.tallies) and any(t.holding for t in self.tallies)
        return both and not mixed

    @property
    def verdict(self) -> str:
        """What may be said, in words; never "significant" with too few areas."""
        if self.p is None:
            return "not tested"
        if self.areas < self.fewest_areas:
            return f"described only: {self.areas} areas, {self.fewest_areas} needed"
        if self.p_corrected is not None and self.p_corrected < 0.05:
            return f"significant after correction for {self.looks} groupings"
        return f"not significant after correction for {self.looks} groupings"


@dataclass(frozen=True, slots=True, kw_only=True)
class SpatialDependence:
    """Whether near places are alike.

    Attributes:
        moran: Moran's I; about `expected` where places are not alike.
        expected: −1 / (n − 1).
        p: One-sided p of permuting the values over the places.
        places: How many places.
        neighbours: How many nearest neighbours each place was compared with.
    """

    moran: float
    expected: float
    p: float
    places: int
    neighbours: int
