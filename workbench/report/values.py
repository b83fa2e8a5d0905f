"""Live numbers: what a name in a text stands for, looked up in records and results.

A name is the record and what of it is meant, `pull_off P-12: stress`; the strength of a plane,
`strength failing C/D: median`; a count, `count pull_off failing`; or an entry of the case,
`case: site`. A name that leads to nothing shows nothing, and the report marks the place.
"""

import math
from dataclasses import dataclass

from workbench.analysis.laboratory.asked import from_outside
from workbench.analysis.strength.results import Group, Method
from workbench.records import (
    BY_NOUN,
    Application,
    AreaEvent,
    Coat,
    Document,
    Dossier,
    LabResult,
    Limit,
    NotUnderstoodError,
    Outcome,
    Plane,
    PullOff,
    Quantity,
    Readings,
    RecoatWindow,
    Record,
    Source,
    Weather,
    When,
    fields_of,
)
from workbench.records.codes import Condition
from workbench.report.given import Results
from workbench.report.text import Value
from workbench.report.wording import breaks_in_words, moment
from workbench.trade.names import spoken
from workbench.trade.pull_off import stress_of
from workbench.trade.showing import Bound, Showing, in_si

SUPPLIED = (Application, AreaEvent, Coat, Document, Limit, RecoatWindow, Weather)
"""Record types that others supplied: papers, logs, data sheets; the report marks them."""
_OWN = ("survey", "site visit", "inspection")


@dataclass(frozen=True, slots=True)
class Values:
    """Looks names up; callable with a name."""

    dossier: Dossier
    results: Results
    show: Showing

    def __call__(self, name: str) -> Value:
        """Return the value of a name; nothing shown where it leads to nothing."""
        try:
            return self._find(name) or Value(name, "")
        except (NotUnderstoodError, ValueError):
            return Value(name, "")

    def _find(self, name: str) -> Value | None:
        what, _, detail = (part.strip() for part in name.partition(":"))
        head, _, rest = what.partition(" ")
        if what == "case":
            found = self.dossier.entry(detail)
            return Value(name, found, (Source("case_entry", detail),)) if found else None
        if head == "count":
            return self._count(name, rest)
        if head == "strength":
            return self._strength(name, rest, detail)
        record = self.dossier.resolve(Source.read(what)) if head in BY_NOUN else None
        return self._of_record(name, record, detail) if record else None

    def _count(self, name: str, rest: str) -> Value | None:
        noun, _, condition = rest.partition(" ")
        kind = BY_NOUN.get(noun)
        if kind is None:
            return None
        counted = self.of_condition(kind, Condition(condition) if condition else None)
        return Value(name, str(len(counted)), tuple(one.source for one in counted))

    def of_condition(self, kind: type[Record], condition: Condition | None) -> tuple[Record, ...]:
        """Return the records of a kind that speak of areas of one condition, or all."""
        held = self.dossier.all(kind)
        if condition is None:
            return held
        return tuple(one for one in held if self._condition(one) is condition)

    def _condition(self, record: Record) -> Condition:
        area = self.dossier.area_of(record)
        return area.condition if area else Condition.UNKNOWN

    # -- strength

    def _strength(self, name: str, rest: str, detail: str) -> Value | None:
        condition, _, plane = rest.rpartition(" ")
        result = self.results.strength
        group = result.group(Condition(condition), Plane.read(plane)) if result else None
        shown = self.of_group(group, detail or "interval") if group else ""
        return Value(name, shown, group.sources) if group and shown else None

    def of_group(self, group: Group, detail: str) -> str:
        """Return one detail of a group: interval, in words, n, broke here, at least, at most."""
        counts = {
            "n": group.n, "broke here": group.broke_here, "at least": group.at_least,
            "at most": group.at_most,
        }  # fmt: skip
        if detail in counts:
            return str(counts[detail])
        if detail == "in words":
            return self.strength_words(group, spoken=True)
        return self.strength_words(group) if detail in ("interval", "median") else ""

    def median_of(self, group: Group) -> tuple[str, Value, str]:
        """Return how a sentence that begins with "the median" goes on, with its number inside."""
        words = f"{group.condition.value} {group.plane}: in words"
        value = Value(f"strength {words}", self.strength_words(group, spoken=True), group.sources)
        if group.method is Method.ESTIMATE and not group.extrapolated:
            return "is put at ", value, ""
        if group.low_mpa is None and group.high_mpa is None:
            return "is not known (", value, ")"
        return "is ", value, ""

    def strength_words(self, group: Group, *, spoken: bool = False) -> str:
        """Return the median of a group with its interval, or the bound that can be given.

        A bound is a sign, or "at least" and "at most" where it is `spoken` in a sentence.
        """
        if group.extrapolated and group.at_least_mpa is not None:
            return self._bound(group.at_least_mpa, Bound.AT_LEAST, spoken=spoken)
        if group.method is Method.ESTIMATE and group.median_mpa is not None:
            shown = self.show.stress(group.median_mpa, low=group.low_mpa, high=group.high_mpa)
            return shown.replace("(", f"({self._level} interval ") if spoken else shown
        if group.method is Method.LOWER_BOUND and group.low_mpa is not None:
            return self._bound(group.low_mpa, Bound.AT_LEAST, spoken=spoken)
        if group.method is Method.UPPER_BOUND and group.high_mpa is not None:
            return self._bound(group.high_mpa, Bound.AT_MOST, spoken=spoken)
        return "too few tests for a number"

    @property
    def _level(self) -> str:
        """The level of the intervals in percent."""
        settings = self.results.strength.settings if self.results.strength else None
        return f"{100 * settings.confidence:.0f} %" if settings else "95 %"

    def _bound(self, mpa: float, bound: Bound, *, spoken: bool) -> str:
        if not spoken:
            return self.show.stress(mpa, bound=bound)
        words = {Bound.AT_LEAST: "at least", Bound.AT_MOST: "at most"}
        return f"{words[bound]} {self.show.stress(mpa)}"

    # -- records

    def _of_record(self, name: str, record: Record, detail: str) -> Value | None:
        shown = self.shown(record, detail)
        return (
            Value(name, shown, (record.source,), outside_mark(record, self.dossier))
            if shown
            else None
        )

    def shown(self, record: Record, detail: str) -> str:
        """Return one field of a record, or what follows from it, as it stands in the report."""
        if isinstance(record, PullOff) and detail == "stress":
            return self.stress(record)
        if isinstance(record, PullOff) and detail == "breaks":
            layers = self.dossier.system_of(self.dossier.area_of(record))
            return breaks_in_words(record.breaks, self.dossier, layers)
        for info in fields_of(type(record)):
            if detail in (info.name, info.column.heading):
                return self._typed(record, getattr(record, info.name), info.column.unit)
        return ""

    def stress(self, pull: PullOff) -> str:
        """Return the stress of a pull-off, a bound where it is one, or why there is none."""
        found = stress_of(pull)
        if found.mpa is None:
            return "no stress"
        glue = pull.breaks.glue if pull.breaks else 0
        bound = Bound.AT_MOST if found.at_most else Bound.AT_LEAST if glue > 50 else Bound.NONE
        if pull.reading and math.isclose(in_si(pull.reading, "MPa"), found.mpa, rel_tol=1e-9):
            read = self.show.quantity(pull.reading, "MPa")
            return f"{bound} {read}" if bound else read
        return self.show.stress(found.mpa, bound=bound)

    def _typed(self, record: Record, value: object, unit: str) -> str:
        if value is None or value == "":
            return ""
        unit = unit or str(getattr(record, "unit", ""))
        if isinstance(value, Quantity):
            return self.show.quantity(value, unit)
        if isinstance(value, Outcome):
            return self.show.outcome(value, getattr(record, "qualifier", None))
        if isinstance(value, Readings):
            return self.show.readings(value, unit)
        return self._worded(value)

    def _worded(self, value: object) -> str:
        if isinstance(value, When):
            return moment(value)
        if isinstance(value, Plane):
            return self.dossier.plane_name(value, self.dossier.system_of(None))
        return spoken(str(value))


def outside_mark(record: Record, dossier: Dossier) -> str:
    """Return whether a record was supplied by others or found by an outside laboratory."""
    if isinstance(record, LabResult) and from_outside(dossier, record):
        return "outside"
    if isinstance(record, AreaEvent) and record.source_text.lower() in _OWN:
        return ""
    return "supplied" if isinstance(record, SUPPLIED) else ""
