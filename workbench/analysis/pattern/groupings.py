"""By what the areas of a case may be grouped: days, batches, crews, treatment, features."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from workbench.analysis.application import timeline_of
from workbench.records import Application, Area, Dossier, Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Grouping:
    """One way to group areas.

    Attributes:
        name: In words.
        kind: day, wait, window, batch, crew, treatment or feature.
        values: Value of each area, by ref; areas of which nothing is known are missing.
        numbers: The value as a number where it has an order: days, hours.
        sources: The records that say so.
    """

    name: str
    kind: str
    values: Mapping[str, str]
    numbers: Mapping[str, float] = field(default_factory=dict)
    sources: tuple[Source, ...]


def groupings_of(dossier: Dossier) -> tuple[Grouping, ...]:
    """Return every grouping that the records give and that takes more than one value."""
    found = (*_of_applications(dossier), *_of_waits(dossier), *_of_features(dossier))
    return tuple(one for one in found if len(set(one.values.values())) > 1)


_COLUMNS = (
    ("batch a", "batch", "batch_a"),
    ("batch b", "batch", "batch_b"),
    ("crew", "crew", "applicator"),
    ("method", "treatment", "method"),
    ("abraded before", "treatment", "abraded"),
    ("cleaned before", "treatment", "cleaned"),
    ("thinner", "treatment", "thinner"),
)


def _of_applications(dossier: Dossier) -> Iterable[Grouping]:
    """Return the groupings by what was done; of several rows for a coat the first start counts."""
    rows: dict[int, dict[str, list[Application]]] = {}
    for one in dossier.all(Application):
        for area in one.area:
            rows.setdefault(one.coat, {}).setdefault(area, []).append(one)
    for coat, by_area in sorted(rows.items()):
        of = _coat_words(dossier, coat)
        sources = tuple(one.source for several in by_area.values() for one in several)
        days = {area: day for area, several in by_area.items() if (day := _first_day(several))}
        yield Grouping(
            name=f"day of {of}",
            kind="day",
            values={area: str(day) for area, day in days.items()},
            numbers={area: float(day.toordinal()) for area, day in days.items()},
            sources=sources,
        )
        for words, kind, column in _COLUMNS:
            values = {area: said for area, several in by_area.items()
                      if (said := _said(several, column))}  # fmt: skip
            yield Grouping(name=f"{words}, {of}", kind=kind, values=values, sources=sources)


def _coat_words(dossier: Dossier, order: int) -> str:
    if order == 0:
        return "preparation"
    products = {coat.product or coat.material.replace("_", " ")
                for area in dossier.all(Area) for coat in dossier.system_of(area)
                if coat.order == order}  # fmt: skip
    return f"coat {order}, {products.pop()}" if len(products) == 1 else f"coat {order}"


def _first_day(rows: list[Application]) -> date | None:
    return min((one.start.day() for one in rows if one.start), default=None)


def _said(rows: list[Application], column: str) -> str:
    return "; ".join(dict.fromkeys(str(said) for one in rows if (said := getattr(one, column))))


def _of_waits(dossier: Dossier) -> Iterable[Grouping]:
    """Return the hours from coat to coat, and whether a recoat window was kept."""
    timeline = timeline_of(dossier)
    bars = {(bar.area, bar.order): bar for bar in timeline.bars}
    for order in sorted({order for _, order in bars}):
        pairs = [
            (below, above)
            for (area, at), below in bars.items()
            if at == order and (above := bars.get((area, order + 1)))
        ]
        hours = {
            below.area: max(0.0, (above.start - below.end).total_seconds() / 3600)
            for below, above in pairs
        }
        yield Grouping(
            name=f"wait after {_coat_words(dossier, order)}",
            kind="wait",
            values={area: f"{wait:.0f} h" for area, wait in hours.items()},
            numbers=hours,
            sources=tuple(source for pair in pairs for bar in pair for source in bar.sources),
        )
        missed = {o.area: o.missed for o in timeline.openings if o.order == order}
        yield Grouping(
            name=f"recoat window after {_coat_words(dossier, order)}",
            kind="window",
            values={
                area: "missed" if late else "kept"
                for area, late in missed.items()
                if late is not None
            },
            sources=tuple(source for below, _ in pairs for source in below.sources),
        )


def _of_features(dossier: Dossier) -> Iterable[Grouping]:
    names = dict.fromkeys(
        name for area in dossier.all(Area) if area.features for name, _ in area.features.items
    )
    for name in names:
        known = [
            (area, value)
            for area in dossier.all(Area)
            if area.features and (value := area.features.value(name)) is not None
        ]
        yield Grouping(
            name=name.replace("_", " "),
            kind="feature",
            values={area.ref: value for area, value in known},
            sources=tuple(area.source for area, _ in known),
        )
