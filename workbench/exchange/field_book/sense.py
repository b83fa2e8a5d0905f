"""What rows say beyond names and layers: the case's own entries, times, scales, answers."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from typing import TypeVar
from zoneinfo import available_timezones

from workbench.exchange.field_book.cells import Cell
from workbench.exchange.field_book.columns import CASE_REQUIRED
from workbench.exchange.field_book.moments import doubtful_hour, read_when
from workbench.exchange.field_book.rows import Entry
from workbench.exchange.field_book.words import QUANTITIES, did_you_mean, is_quantity, near
from workbench.exchange.field_book.world import World
from workbench.reasoning.loading import load_knowledge
from workbench.records import (
    AddedObservation,
    Answer,
    Application,
    Area,
    CaseEntry,
    Coat,
    Limit,
    Problem,
    PullOff,
    Rating,
    RecoatWindow,
    Record,
    Weather,
    When,
    fields_of,
)
from workbench.records.background import CASE_KEYS
from workbench.records.codes import RatingMethod
from workbench.records.written import NotUnderstoodError

R = TypeVar("R", bound=Record)
_SYSTEMS_OF_UNITS = ("SI", "US", "BOTH")
_KEYS = {*CASE_KEYS, "note"}
_AHEAD = frozenset({"due", "end"})
"""Moments that may lie ahead."""
_SCALES = {
    RatingMethod.ASTM_D6677: 10, RatingMethod.ASTM_D4214: 10, RatingMethod.ASTM_D610: 10,
}  # fmt: skip
"""Upper ends of the scales that do not run from 0 to 5 (READ for D6677, D610; D4214 MEMORY)."""


def check_sense(world: World) -> Iterator[Problem]:
    """Return what cannot be meant, and what is doubtful."""
    yield from _case_entries(world)
    yield from _systems(world)
    yield from _limits(world)
    yield from _products(world)
    yield from _ratings(world)
    yield from _answers(world)
    yield from _hours(world)
    yield from _to_come(world)
    yield from _dry_air(world)
    yield from _as_found(world)


def _of(world: World, kind: type[R]) -> Iterator[tuple[Entry, R]]:
    return ((one, one.record) for one in world.entries if isinstance(one.record, kind))


def _case_entries(world: World) -> Iterator[Problem]:
    entries = list(_of(world, CaseEntry))
    for entry, said in entries:
        if said.key not in _KEYS and not said.key.startswith("question"):
            meant = near(said.key, CASE_KEYS, cutoff=0.75)
            right = f"write {meant}" if meant else "it is kept, and nothing depends on it"
            wrong = f"“{said.key}” is no key of the sheet"
            yield entry.problem("key", wrong, right, hinders=bool(meant))
        if fault := _wrong_entry(said):
            yield entry.problem("value", *fault)
    for key in CASE_REQUIRED if entries else ():
        if not world.both.entry(key):
            yield Problem(entries[0][0].sheet, "", f"no {key}", f"fill in the {key} of the case")


def _wrong_entry(said: CaseEntry) -> tuple[str, str] | None:
    """Return what is wrong with an entry that the program depends on."""
    if said.key == "time zone" and said.value not in available_timezones():
        right = did_you_mean(said.value, available_timezones(), "write one such as Europe/London")
        return f"“{said.value}” is no time zone", right
    if said.key == "units" and said.value.upper() not in _SYSTEMS_OF_UNITS:
        return f"“{said.value}” is no system of units", "write SI, US or both"
    if said.key == "opened":
        try:
            read_when(Cell(said.value))
        except NotUnderstoodError as wrong:
            return wrong.wrong, wrong.right
    return None


def _systems(world: World) -> Iterator[Problem]:
    known = {coat.system for coat in world.both.all(Coat)}
    told = set()
    for entry, area in _of(world, Area):
        if not area.system or area.system in known or "coat" in world.unread:
            continue
        if area.system not in told:
            told.add(area.system)
            wrong = f"no coat of a system “{area.system}” is described"
            right = did_you_mean(area.system, known, "describe it in the sheet coats")
            yield entry.problem("system", wrong, right, hinders=bool(known))


def _limits(world: World) -> Iterator[Problem]:
    """Return limits for something that is neither product, system, layer nor area."""
    known = {area.ref for area in world.both.all(Area)} | world.refs.get("area", set())
    for coat in world.both.all(Coat):
        known |= {coat.system, coat.product, f"{coat.system}:{coat.order}"}
    for entry, limit in _of(world, Limit):
        if not is_quantity(limit.quantity):
            wrong = f"“{limit.quantity}” is no quantity that a rule reads"
            right = did_you_mean(limit.quantity, QUANTITIES, "it is kept as it stands")
            yield entry.problem("quantity", wrong, right, hinders=False)
        if limit.applies_to and limit.applies_to not in known and "coat" not in world.unread:
            wrong = f"“{limit.applies_to}” is no product, system, system:order or area"
            meant = near(limit.applies_to, known, cutoff=0.75)
            right = f"write {meant}, if that is meant" if meant else "it applies to nothing now"
            yield entry.problem("applies_to", wrong, right, hinders=bool(meant))


def _products(world: World) -> Iterator[Problem]:
    known = {coat.product for coat in world.both.all(Coat)} - {""}
    for entry, window in _of(world, RecoatWindow):
        for name in ("product", "on_top"):
            product = str(getattr(window, name))
            if product and product not in known and "coat" not in world.unread:
                wrong = f"no coat is of the product “{product}”"
                right = did_you_mean(product, known, "the window applies to no coat of the case")
                yield entry.problem(name, wrong, right, hinders=False)


def _ratings(world: World) -> Iterator[Problem]:
    for entry, rating in _of(world, Rating):
        best = _SCALES.get(rating.method, 5)
        value = rating.rating.value
        if not 0 <= value <= best:
            wrong = f"rating {rating.rating} by {rating.method}"
            yield entry.problem("rating", wrong, f"its scale runs from 0 to {best}")
        elif rating.method is RatingMethod.ASTM_D6677 and value % 2:
            wrong = f"rating {rating.rating} by {rating.method}"
            yield entry.problem("rating", wrong, "its scale has even numbers", hinders=False)


def _answers(world: World) -> Iterator[Problem]:
    """Return answers to questions that nobody asks, or with values that they do not take."""
    answers = list(_of(world, Answer))
    if not answers:
        return
    values = {one.key: one.values for one in load_knowledge().observations}
    for added in world.both.all(AddedObservation):
        values[added.observation] = tuple(part.strip() for part in added.values.split(";"))
    for entry, answer in answers:
        if answer.observation not in values:
            wrong = f"“{answer.observation}” is no question of the knowledge"
            right = did_you_mean(answer.observation, values, "take a key of the knowledge")
            yield entry.problem("observation", wrong, right)
        elif (taken := values[answer.observation]) and answer.value not in (*taken, "unknown"):
            wrong = f"“{answer.value}” is no answer to {answer.observation}"
            yield entry.problem("value", wrong, f"write {', '.join(taken)} or unknown")


def _hours(world: World) -> Iterator[Problem]:
    """Return local times that did not exist, or came twice, when the clocks changed."""
    zone = world.both.zone
    for entry in world.entries:
        for name in _moments(entry):
            when = getattr(entry.record, name)
            if isinstance(when, When) and (wrong := doubtful_hour(when, zone)):
                right = "write it with its offset from UTC, as 01:30+01:00"
                yield entry.problem(name, f"{when} {wrong}", right, hinders=False)


def _to_come(world: World) -> Iterator[Problem]:
    """Return what is said to have happened after now; what falls due may lie ahead."""
    tomorrow = datetime.now(world.both.zone) + timedelta(days=1)
    for entry in world.entries:
        for name in _moments(entry):
            when = getattr(entry.record, name)
            if name not in _AHEAD and when and when.start(world.both.zone) > tomorrow:
                yield entry.problem(name, f"{when} is yet to come", "check it", hinders=False)


def _dry_air(world: World) -> Iterator[Problem]:
    """Return humidities that are written as shares of one, mostly."""
    for entry in world.entries:
        if not isinstance(one := entry.record, Application | Weather) or one.humidity is None:
            continue
        if 0 < (value := one.humidity.value) <= 1:
            wrong = f"a relative humidity of {one.humidity}"
            right = f"write {100 * value:g}, if a share of one is meant"
            yield entry.problem("humidity", wrong, right, hinders=False)


def _as_found(world: World) -> Iterator[Problem]:
    """Return, once, the pull-offs as found that have no prepared patch beside them."""
    loose = [
        entry for entry, pull in _of(world, PullOff)
        if pull.treatment and world.both.treatment_of(pull) is None
    ]  # fmt: skip
    if loose:
        words = "1 pull-off" if len(loose) == 1 else f"{len(loose)} pull-offs"
        yield loose[0].problem(
            "treatment", f"as_found on {words} with no washed or abraded patch beside",
            "it is taken as the film as it stands; leave treatment blank there", hinders=False,
        )  # fmt: skip


def _moments(entry: Entry) -> Iterable[str]:
    return (info.name for info in fields_of(type(entry.record)) if info.type is When)
