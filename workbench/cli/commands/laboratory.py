"""Say what the laboratory's originals show, or what one file of curves holds."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson
from workbench.cli.printing import count, say, say_json
from workbench.records import KnownError

if TYPE_CHECKING:
    from workbench.analysis.laboratory.found import Laboratory

What = Annotated[
    Path, typer.Argument(metavar="CASE|FILE", help="A case, or a file of curves outside one.")
]
Listed = Annotated[
    str, typer.Option("--elements", metavar="Ti,Ba", help="Label X-ray peaks of a file with these.")
]


def run(what: What, *, elements: Listed = "", json: AsJson = False) -> int:
    """Say what spectra, thermograms, sections, elements and colours show, and what they cannot.

    Of a file outside a case: its curves, their bands, peaks and transitions, and what is wrong
    with it. Exit code 1 says that something could not be read, or that a check is out of tolerance.
    """
    if what.is_dir():
        return _of_case(what, json=json)
    if not what.exists():
        raise KnownError(f"there is no case and no file {what}")
    return _of_file(what, elements, json=json)


def _of_case(folder: Path, *, json: bool) -> int:
    from workbench.desk.case import Case
    from workbench.desk.questions.laboratory import laboratory, laboratory_members

    with Case.open(folder, author="", read_only=True) as opened:
        found = laboratory(opened.dossier, opened.original)
        members = laboratory_members(opened.dossier, found)
    if json:
        say_json(members)
    else:
        _say_case(found, members)
    wrong = bool(found.problems) or any(one.within is False for one in found.checks)
    return 1 if wrong else 0


def _say_case(found: "Laboratory", members: dict[str, list[dict[str, object]]]) -> None:
    for key, title in _TITLES.items():
        rows = members[key]
        if not rows:
            continue
        say(f"{title} ({len(rows)})")
        for row in rows:
            _say_row(row)
        say()
    for problem in found.problems:
        say(f"! {problem}")
    if not any(members[key] for key in _TITLES):
        say("The laboratory has neither curves nor readings in this case.")


_TITLES = {
    "requests": "Questions put",
    "spectra": "Infrared spectra",
    "transitions": "Glass transitions",
    "heats": "First and second heat",
    "peaks": "Peaks of thermograms",
    "estimates": "Estimates by rule",
    "sections": "Sections",
    "elements": "Elements by face",
    "ratios": "Elements against the control",
    "xrays": "X-ray spectra",
    "colours": "Colour and gloss",
    "checks": "Checks of the instruments",
    "warnings": "What may be taken for what",
    "limits": "What it can and cannot tell",
}


_FOR_MACHINES = frozenset({"sources", "every_definition", "um_per_px", "known_from"})
"""Members that only --json prints."""


def _say_row(row: dict[str, object]) -> None:
    """Say the members of a row in one line, and lists of things under it."""
    told = {name: one for name, one in row.items() if name not in _FOR_MACHINES and _told(one)}
    below = {name: one for name, one in told.items() if _is_table(one)}
    words = (f"{_named(name)}{_short(one)}" for name, one in told.items() if name not in below)
    say(f"  {'; '.join(words)}")
    for name, rows in below.items():
        for each in rows if isinstance(rows, list) else ():
            said = (f"{_named(key)}{_short(one)}" for key, one in each.items() if _told(one))
            say(f"      {name.replace('_', ' ')}: {'; '.join(said)}")


def _named(name: str) -> str:
    return "" if name in ("ref", "words", "title", "what") else f"{name.replace('_', ' ')} "


def _is_table(value: object) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _told(value: object) -> bool:
    return value is not None and value not in ("", [], {}, ())


def _short(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.4g}"
    if isinstance(value, dict):
        return ", ".join(f"{name} {_short(one)}" for name, one in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(map(_short, value))
    return str(value)


def _of_file(path: Path, elements: str, *, json: bool) -> int:
    from workbench.desk.laboratory.alone import file_members

    listed = tuple(part for part in elements.replace(",", " ").split() if part)
    members = file_members(path, listed)
    if json:
        say_json(members)
    else:
        _say_file(members["curves"], members["problems"])
    hinders = any(isinstance(one, dict) and one["hinders"] for one in members["problems"])
    return 1 if hinders else 0


def _say_file(curves: Iterable[dict[str, object]], problems: Iterable[dict[str, object]]) -> None:
    held = list(curves)
    say(count(len(held), "curve"))
    for one in held:
        _say_row(one)
    for problem in problems:
        say(f"{'!' if problem['hinders'] else ' '} {problem['words']}")
