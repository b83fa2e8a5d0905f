"""Readings against what is required, or against the other side: the shape most rules share."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median

from workbench.reasoning.derivation.amounts import number
from workbench.reasoning.derivation.chance import rank_p
from workbench.reasoning.derivation.said import (
    NO,
    YES,
    Settled,
    by_number,
    found,
    share_in_words,
    silent,
    sources_of,
)
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import LabResult, Limit, Measurement, Quantity, Source
from workbench.records.codes import Qualifier, Quality

Reading = Measurement | LabResult


@dataclass(frozen=True, slots=True)
class Judged:
    """One reading against its requirement; `holds` is None where a bound leaves it open."""

    holds: bool | None
    value: float
    need: float
    row: Reading
    limit: Limit

    @property
    def sources(self) -> tuple[Source, ...]:
        """The reading and the requirement."""
        return (self.row.source, self.limit.source)


def value_of(row: Reading, unit: str = "") -> float | None:
    """Return the number of a reading, in `unit` where one is named."""
    if row.value.quantity is None:
        return None
    return number(row.value.quantity, unit) if unit else row.value.value


def judge(scene: Scene, row: Reading, *, above: bool) -> Judged | None:
    """Return a reading against the requirement that fits its method; None where there is none.

    Args:
        scene: The side.
        row: The reading.
        above: Whether the maximum (else the minimum) is asked.
    """
    limit = scene.limit(row.quantity, area=scene.dossier.area_of(row), method=row.method)
    bound = (limit.maximum if above else limit.minimum) if limit else None
    if limit is None or bound is None:
        return None
    value = _in_unit_of(row, bound)
    if value is None:
        return None
    holds: bool | None = value > bound.value if above else value < bound.value
    if above and row.qualifier is Qualifier.BELOW and value > bound.value:
        holds = None
    if not above and row.qualifier is Qualifier.ABOVE and value < bound.value:
        holds = None
    return Judged(holds, value, bound.value, row, limit)


def _in_unit_of(row: Reading, bound: Quantity) -> float | None:
    if row.value.quantity is None:
        return None
    if not bound.unit or not row.value.unit or bound.unit == row.value.unit:
        return row.value.value
    return number(row.value.quantity, bound.unit)


def beyond(scene: Scene, rows: Sequence[Reading], what: str, *, above: bool = True) -> Finding:
    """Return whether most readings are beyond the requirement; silent where there is none."""
    judged = [one for row in rows if (one := judge(scene, row, above=above))]
    known = [one for one in judged if one.holds is not None]
    if not known:
        lacking = f"no requirement of {what} is recorded" if rows else f"{what} was not read"
        return silent(f"{lacking} for {scene.ground}", sources_of(rows) or scene.sources)
    over = [one for one in known if one.holds]
    values = [one.value for one in known]
    kind = "maximum" if above else "minimum"
    unit = known[0].row.value.unit
    read = scene.showing.span(min(values), max(values), unit)
    need = scene.showing.span(known[0].need, known[0].need, unit)
    words = f"{what} in {scene.ground}: {read}, {kind} {need}"
    sources = [source for one in (over or known) for source in one.sources]
    quality = method_quality([one.row for one in known])
    if not over:
        return found(NO, words, sources, n=len(known), quality=quality)
    if 2 * len(over) < len(known):
        return silent(f"{words}; {len(over)} of {len(known)} are beyond it", sources)
    return found(YES, words, sources, n=len(known), quality=quality)


def method_quality(rows: Sequence[Reading]) -> Quality:
    """Return the quality of readings: fewer than three, or no stated method, is fair."""
    if any(row.method == "not_stated" for row in rows):
        return Quality.FAIR
    return by_number(len(rows))


def span(values: Sequence[float]) -> str:
    """Return readings in words: "2.1", "1.9 to 2.4"."""
    low, high = min(values), max(values)
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def higher_here(
    scene: Scene, here: Sequence[Reading], there: Sequence[Reading], what: str, settled: Settled
) -> Finding:
    """Return whether readings are higher on the failing side than on the sound one.

    The two are told apart by the rank test, or by complete separation where the smallest
    possible chance is not small enough for so few readings and the medians differ by a fifth.
    """
    pairs = _same_method(here, there)
    if pairs is None:
        words = f"{what} was not read by one method on both sides"
        return silent(words, sources_of([*here, *there]) or scene.sources)
    own, other = pairs
    high, low = ([v for row in some if (v := value_of(row)) is not None] for some in (own, other))
    sources = sources_of([*own, *other])
    unit = own[0].value.unit
    words = (
        f"{what}: {scene.showing.span(min(high), max(high), unit)} in failing areas, "
        f"{scene.showing.span(min(low), max(low), unit)} in areas that look sound"
    )
    quality = by_number(min(len(high), len(low)))
    if _is_higher(scene, high, low):
        return found(YES, words, sources, n=len(high) + len(low), quality=quality,
                     settled_by=settled)  # fmt: skip
    return found(NO, words, sources, n=len(high) + len(low), quality=quality, settled_by=settled)


def _is_higher(scene: Scene, high: Sequence[float], low: Sequence[float]) -> bool:
    if median(high) <= median(low):
        return False
    clear = min(high) > max(low) and median(high) >= 1.2 * median(low)
    return clear or (
        median(high) >= 1.1 * median(low) and rank_p(high, low) < scene.settings.contrast_p
    )


def _same_method(
    here: Sequence[Reading], there: Sequence[Reading]
) -> tuple[list[Reading], list[Reading]] | None:
    """Return readings of the one method and unit that both sides have, the most frequent first."""
    here, there = ([r for r in some if value_of(r) is not None] for some in (here, there))
    kinds = [(r.quantity, r.method, r.value.unit) for r in (*here, *there)]
    for kind in sorted(dict.fromkeys(kinds), key=kinds.count, reverse=True):
        own, other = (
            [r for r in some if (r.quantity, r.method, r.value.unit) == kind]
            for some in (here, there)
        )
        if own and other:
            return own, other
    return None


def words_say(
    scene: Scene, rows: Sequence[Reading], what: str, yes: Sequence[str], no: Sequence[str],
    compare: Callable[[Reading], bool | None] = lambda _: None,
) -> Finding:  # fmt: skip
    """Return yes or no as most of some readings say in words, or by a comparison of numbers."""
    said = []
    for row in rows:
        if row.value.word in yes:
            said.append((True, row))
        elif row.value.word in no:
            said.append((False, row))
        elif (holds := compare(row)) is not None:
            said.append((holds, row))
    if not said:
        lacking = "could not be determined" if rows else "was not read"
        return silent(f"{what} {lacking} in {scene.ground}", sources_of(rows) or scene.sources)
    hits = [row for holds, row in said if holds]
    misses = [row for holds, row in said if not holds]
    if len(hits) == len(misses):
        return silent(f"{what}: the readings in {scene.ground} are divided",
                      sources_of([*hits, *misses]))  # fmt: skip
    value, chosen = (YES, hits) if len(hits) > len(misses) else (NO, misses)
    seen = "found" if value == YES else "not found"
    share = share_in_words(len(chosen), len(said), "reading")
    words = f"{what}: {seen} in {share} in {scene.ground}"
    shares = ((YES, len(hits) / len(said)), (NO, len(misses) / len(said)))
    return found(
        value, words, sources_of(chosen), n=len(said), quality=method_quality(chosen),
        shares=shares if hits and misses else (),
    )  # fmt: skip
