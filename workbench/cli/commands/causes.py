"""Say which causes stand, what excludes the others, and what would settle it."""

from typing import TYPE_CHECKING

from workbench.cli.main import FOUND
from workbench.cli.options import AsJson, CasePath
from workbench.cli.printing import count, say, say_json

if TYPE_CHECKING:
    from workbench.reasoning import Candidate, NextTest, Reasoning

_SHOWN = 8
_DESTROYS = {"no": "not destructive", "small": "a little destructive", "yes": "destructive"}


def run(case: CasePath, *, json: AsJson = False) -> int:
    """Say which causes the records lead to, how firmly, and what to read next.

    Nothing is printed as a probability: points order the tests, grades follow rules, and an
    exclusion awaits a person's confirmation.
    """
    from workbench.desk.case import Case
    from workbench.desk.questions.causes import causes, causes_members

    with Case.open(case, author="", read_only=True) as opened:
        dossier = opened.dossier
    reasoning = causes(dossier)
    if json:
        say_json(causes_members(reasoning))
    else:
        _say(reasoning)
    return FOUND if reasoning.inconclusive else 0


def _say(reasoning: "Reasoning") -> None:
    say(reasoning.verdict)
    for alias in reasoning.aliases:
        say(f"  {alias.words[:1].upper()}{alias.words[1:]}.")
    say()
    standing = [one for one in reasoning.candidates if not one.excluded_by]
    for one in standing[:_SHOWN]:
        _say_candidate(one)
    barred = [one for one in reasoning.candidates if one.excluded_by]
    say(f"\nExcluded, awaiting confirmation or confirmed: {count(len(barred), 'candidate')}")
    for one in barred:
        found = (cell.finding.words or cell.key.replace("_", " ") for cell in one.excluded_by)
        say(f"  {one.title}: {'; '.join(dict.fromkeys(found))}")
    if reasoning.next_tests:
        say("\nWhat would settle it, the most telling first")
    for test in reasoning.next_tests[:_SHOWN]:
        _say_test(test)
    _say_rest(reasoning)


def _say_candidate(one: "Candidate") -> None:
    part = f", {one.role}" if one.role else ""
    joint = ", joint first" if one.joint else ""
    say(f"{one.place:>3}  {one.title}: {one.grade}{part}{joint}")
    for process in one.behind:
        say(f"       may lie behind “{process}”, and is then no rival of it")
    for cell in one.supporting[:4]:
        say(f"       + {cell.finding.words}")
    for cell in [cell for cell in one.opposing if cell.counted][:3]:
        say(f"       − {cell.finding.words}")


def _say_test(test: "NextTest") -> None:
    facts = ", ".join(
        word
        for word in (
            test.setting,
            f"cost {test.cost}",
            test.delay,
            _DESTROYS.get(test.destructive, ""),
        )
        if word
    )
    say(f"  {test.name} ({facts})")
    for outcome in test.outcomes[:4]:
        effects = [
            f"{verb} {', '.join(f'“{title}”' for title in titles)}"
            for verb, titles in (
                ("strengthens", outcome.strengthens), ("weakens", outcome.weakens),
                ("would exclude", outcome.excludes),
            )
            if titles
        ]  # fmt: skip
        say(f"       {outcome.words} This {', '.join(effects)}.")


def _say_rest(reasoning: "Reasoning") -> None:
    for heading, words in (
        ("It hangs on", [one.words for one in reasoning.fragilities]),
        ("It leaves unexplained", [one.words for one in reasoning.unexplained]),
        ("It has against it", [one.words for one in reasoning.against]),
    ):
        if words:
            say(f"\n{heading}")
        for one in words[:_SHOWN]:
            say(f"  {one}")
    for name in reasoning.lists_open:
        say(f"\nThe list “{name}” is empty, and nobody has said that it is.")
