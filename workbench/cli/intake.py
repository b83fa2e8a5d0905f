"""How a field book that was read is told on a terminal."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from workbench.cli.printing import count, say
from workbench.records import Record

if TYPE_CHECKING:
    from workbench.desk.intake import Intake
    from workbench.exchange.field_book.comparing import Difference

_MOST_LINES = 60


def say_intake(intake: "Intake") -> None:
    """Print the problems of a book, and what taking it in would change."""
    reading, changes = intake.reading, intake.changes
    _say_lines("WRONG   ", reading.hindrances)
    _say_lines("note    ", reading.warnings)
    _say_lines("changed ", (*changes.changed, *changes.corrections))
    _say_lines("kept    ", [one.edited for one in changes.edited])
    gone = () if reading.hindrances else changes.absent
    _say_records("gone    ", gone, "it is not in the book now; the case keeps it")
    _say_records("left    ", changes.withdrawn, "it was withdrawn from the case; not taken in")
    say(f"{reading.name}: {_in_words(intake)}.")
    if reading.hindrances:
        wrong = count(len(reading.hindrances), "problem")
        say(f"Nothing is taken in while {wrong} stand{'s' * (wrong[:2] == '1 ')}.")


def as_json(intake: "Intake", *, taken: bool) -> dict[str, object]:
    """Return the same for a program."""
    changes = intake.changes
    return {
        "book": intake.reading.name,
        "taken_in": taken,
        "problems": intake.reading.problems,
        "added": _labels(changes.added),
        "changed": [_difference(one) for one in (*changes.changed, *changes.corrections)],
        "edited_in_case": [_difference(one) for one in changes.edited],
        "unchanged": len(changes.unchanged),
        "absent": _labels(changes.absent),
        "withdrawn": _labels(changes.withdrawn),
        "files": [one.name for one in changes.files],
    }


def _difference(one: "Difference") -> dict[str, object]:
    return {
        "record": str(one.old.source),
        "fields": {
            info.column.heading: {"was": _text(one.old, info.name), "is": _text(one.new, info.name)}
            for info in one.fields
        },
    }


def _text(record: Record, name: str) -> str:
    value = getattr(record, name)
    return "" if value is None else str(value)


def _labels(records: Iterable[Record]) -> list[str]:
    return [str(one.source) for one in records]


def _say_lines(mark: str, lines: Iterable[object]) -> None:
    held = list(lines)
    for line in held[:_MOST_LINES]:
        say(f"{mark} {line}")
    if len(held) > _MOST_LINES:
        say(f"{mark} … and {len(held) - _MOST_LINES} more")


def _say_records(mark: str, records: Iterable[Record], why: str) -> None:
    _say_lines(mark, [f"{type(one).title} {one.label}: {why}" for one in records])


def _in_words(intake: "Intake") -> str:
    from workbench.exchange.field_book.comparing import counts

    changes = intake.changes
    parts = {
        "new": counts(changes.added),
        "changed": counts(one.old for one in changes.changed),
        "custody entries corrected": counts(one.old for one in changes.corrections),
        "as before": counts(changes.unchanged),
        "changed in the case since": counts(one.old for one in changes.edited),
        "files to keep": str(len(changes.files) or ""),
    }
    said = [f"{name}: {words}" for name, words in parts.items() if words]
    return "; ".join(said) or "it holds no records"
