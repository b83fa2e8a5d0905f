"""Say how strong each plane is, and how the conditions compare."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, CasePath
from workbench.cli.printing import count, say, say_json
from workbench.records import Dossier, KnownError

if TYPE_CHECKING:
    from workbench.analysis.comparison.results import Comparison
    from workbench.analysis.strength.results import Group, StrengthResult
    from workbench.desk.questions.strength import Adhesion
    from workbench.trade.showing import Showing

_MOST_PATTERNS = 6


def run(
    case: CasePath,
    more: Annotated[
        list[str] | None,
        typer.Option(metavar="AREA=N", help="Draw N places for further pulls in an area."),
    ] = None,
    book: Annotated[
        Path | None,
        typer.Option(metavar="OUT.xlsx", help="Write those places into a new field book."),
    ] = None,
    *,
    json: AsJson = False,
) -> int:
    """Say how strong each plane is in each condition, and how the conditions compare.

    A pull tells the strength of its weakest plane; for all others it is a lower bound. With
    --more and --book, places for further pulls are drawn at random into a new field book.
    """
    from workbench.desk.case import Case
    from workbench.desk.questions.strength import adhesion, adhesion_members
    from workbench.trade.showing import Showing, System

    with Case.open(case, author="", read_only=True) as opened:
        dossier = opened.dossier
    if more or book:
        return _plan(dossier, more or [], book)
    found = adhesion(dossier)
    if json:
        say_json(adhesion_members(found))
        return 0
    units = dossier.entry("units").upper()
    _say(found, Showing(System.US if units == System.US else System.SI))
    return 0


def _plan(dossier: Dossier, more: list[str], book: Path | None) -> int:
    from workbench.desk.planning import write_plan_book

    if not (more and book):
        raise KnownError("give both --more AREA=N and --book OUT.xlsx")
    if book.exists():
        raise KnownError(f"{book} is there already, and may be filled in; choose another name")
    places = write_plan_book(book, dossier, [_wanted(text) for text in more])
    say(f"{book} is written with {count(len(places), 'place')} to pull at.")
    return 0


def _wanted(text: str) -> tuple[str, int]:
    area, _, number = text.rpartition("=")
    if not (area and number.isdecimal() and int(number) > 0):
        raise KnownError(f"“{text}” is not an area and a number; write it as B2=4")
    return area, int(number)


def _say(found: "Adhesion", showing: "Showing") -> None:
    strength = found.strength
    if not strength.pulls and not strength.left_out:
        say("No pull-off is recorded.")
    _say_groups(strength, showing)
    if strength.comparisons or found.measured:
        say("\nComparisons (effect, interval, then p)")
    for comparison in (*strength.comparisons, *found.measured):
        say(f"  {_compared(comparison, showing)}")
    if found.patterns:
        say("\nWhat the failure follows (before correction; a lead, not a cause)")
    for pattern in found.patterns[:_MOST_PATTERNS]:
        p = "" if pattern.p is None else f"p {pattern.p:.2g}, "
        say(f"  {pattern.name}: {p}{pattern.verdict}")
    _say_limits(strength)


def _say_groups(strength: "StrengthResult", showing: "Showing") -> None:
    groups = (*strength.groups, *strength.trials)
    several = len({group.system for group in groups}) > 1
    by_film: dict[str, list[Group]] = {}
    for group in groups:
        system = f", system {group.system}" if several else ""
        by_film.setdefault(f"{group.condition}{system}, {group.film}", []).append(group)
    for of, held in by_film.items():
        say(f"\n{of}")
        _say_film(held, showing)


def _say_film(groups: "list[Group]", showing: "Showing") -> None:
    from workbench.analysis.strength.words import bound_words, strength_words

    say(f"  {_usual_means(groups[0], showing)}")
    bounds: dict[str, list[str]] = {}
    for group in groups:
        number = strength_words(group, showing) or "no number"
        say(f"  {group.plane_name:48} {number:26} {_counts(group)}")
        bounds.setdefault(bound_words(group, showing), []).append(str(group.plane))
    for words, planes in bounds.items():
        if words:
            say(f"  {', '.join(planes)}: {words}")


def _say_limits(strength: "StrengthResult") -> None:
    if strength.left_out:
        say(f"\nLeft out: {count(len(strength.left_out), 'pull')}")
    for one in strength.left_out:
        say(f"  {one}")
    if strength.pulls:
        say()
        for remark in strength.remarks:
            say(remark)


def _usual_means(group: "Group", showing: "Showing") -> str:
    """Return what the usual means would say, which is the strength of no plane."""
    naive = group.naive
    means = [
        (naive.mean_mpa, f"of all {naive.n}"),
        (naive.mean_without_glue_mpa, f"of the {naive.n_without_glue} without mostly glue"),
    ]
    told = [f"{showing.stress(mpa)} {words}" for mpa, words in means if mpa is not None]
    return f"usual means, the strength of no plane: {', '.join(told)}"


def _counts(group: "Group") -> str:
    away = f", {group.at_most} of them before load" if group.at_most else ""
    return f"{group.broke_here + group.at_most} of {group.n} parted here{away}"


def _compared(one: "Comparison", showing: "Showing") -> str:
    p = "" if one.p is None else f", p {one.p:.2g}"
    sides = f"{one.one.name} against {one.other.name}"
    return f"{one.quantity}: {sides}: {one.effect} {_effect(one, showing)}{p}; {one.verdict}"


def _effect(one: "Comparison", showing: "Showing") -> str:
    """Return the effect with its interval; a bound where the data give no more."""
    if one.value is None:
        ends = (("at least", one.low), ("at most", one.high))
        told = [f"{words} {_amount(one, end, showing)}" for words, end in ends if end is not None]
        return " and ".join(told) or "not known"
    value = _amount(one, one.value, showing)
    if one.low is None or one.high is None:
        return f"{value} (too few readings for an interval)"
    return f"{value} ({_amount(one, one.low, showing)} to {_amount(one, one.high, showing)})"


def _amount(one: "Comparison", value: float, showing: "Showing") -> str:
    """Return a ratio as it is, and a difference in the unit that the case is shown in."""
    from workbench.analysis.comparison.results import Effect
    from workbench.trade.showing import DIFFERENCE, PLAIN, TEMPERATURE, kind_of, unit_sign
    from workbench.trade.units import convert

    if one.effect is not Effect.SHIFT:
        return showing.value(PLAIN, value)
    kind = kind_of(one.unit)
    if kind is None:
        return f"{showing.value(PLAIN, value)} {unit_sign(one.unit)}".strip()
    if kind is TEMPERATURE:
        return showing.value(DIFFERENCE, value * (5 / 9 if one.unit == "degF" else 1))
    return showing.value(kind, convert(value, one.unit, kind.si))
