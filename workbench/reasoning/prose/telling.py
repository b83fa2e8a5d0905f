"""How a finding, an expectation and a list are told; what was told in full is not told again."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from workbench.reasoning.knowledge import FOR, Cause, Observation
from workbench.reasoning.results import UNKNOWN, Cell, Finding, Reasoning
from workbench.reasoning.weighing import Scales, predicted_of
from workbench.records import Direction, Dossier, Source


@dataclass(frozen=True)
class Telling:
    """The reasoning as it is told, with what was told so far.

    Attributes:
        reasoning: What is told.
        scales: The knowledge and thresholds behind it.
        dossier: The records behind it.
    """

    reasoning: Reasoning
    scales: Scales
    dossier: Dossier
    _told: set[str] = field(default_factory=set, repr=False, compare=False)

    def observation(self, c: Cell) -> Observation:
        """Return the observation of a cell."""
        return self.scales.knowledge.observation[c.key]

    def in_full(self, c: Cell) -> str:
        """Return what was found: in full the first time, in short once it has been told."""
        if c.key in self._told:
            return self.in_short(c)
        self._told.add(c.key)
        return c.finding.words or self.in_short(c)

    def in_short(self, c: Cell) -> str:
        """Return what was found in the short words of the observation."""
        return says(self.observation(c), [c.finding.value])

    def expectation(self, cause: Cause, c: Cell) -> str:
        """Return what a cause leads one to expect of an observation; nothing where it says none."""
        wanted = [p for p in predicted_of(cause, c.finding) if p.direction in FOR and not p.implied]
        first = next((p for p in wanted if p.direction is Direction.EXPECTED), None)
        chosen = first or next(iter(wanted), None)
        if chosen is None:
            return ""
        return chosen.expect or says(self.observation(c), chosen.values)

    def where_it_holds(self, c: Cell) -> tuple[str, str]:
        """Return where the coating holds and what is found there, if it differs; else nothing."""
        sound, control = c.finding.sound, c.finding.control
        for ground, value in (("Where the coating looks sound", sound), ("In controls", control)):
            if c.finding.contrasted and value not in (*_NOTHING, c.finding.value):
                return ground, _anywhere(lower(says(self.observation(c), [value])))
        return "", ""


_NOTHING = ("", UNKNOWN, "MIXED")
_OF_FAILING = (" where it fails", " in failing areas", " at the failing zone", " on failing cores")


def _anywhere(words: str) -> str:
    """Return what is said of failing areas without naming them, to be said of another side."""
    for place in _OF_FAILING:
        words = words.replace(place, "")
    return words


def says(observation: Observation, values: Iterable[str]) -> str:
    """Return values of an observation in its own short words."""
    held = [observation.says.get(value) or value.replace("_", " ") for value in values]
    return " or ".join([*held[:1], *(lower(one) for one in held[1:])])


def sources_of(cells: Iterable[Cell]) -> tuple[Source, ...]:
    """Return the records behind some cells."""
    return tuple(dict.fromkeys(source for c in cells for source in c.finding.sources))


def findings_of(cells: Iterable[Cell]) -> list[Finding]:
    """Return the findings of some cells."""
    return [c.finding for c in cells]


def listed(words: Sequence[str]) -> str:
    """Return words as "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def numbers(some: Sequence[int]) -> str:
    """Return numbers as "1, 3 and 5 to 7"."""
    runs: list[list[int]] = []
    for one in sorted(set(some)):
        if runs and one == runs[-1][-1] + 1:
            runs[-1].append(one)
        else:
            runs.append([one])
    parts = []
    for run in runs:
        parts += [f"{run[0]} to {run[-1]}"] if len(run) > 2 else [str(one) for one in run]
    return listed(parts)


def following(why: str) -> str:
    """Return why a finding bears so, as what follows from it."""
    return f"so {lower(why[5:])}" if why.startswith("Then ") else lower(why)


def upper(words: str) -> str:
    """Return words as they begin a sentence."""
    return f"{words[:1].upper()}{words[1:]}"


def lower(words: str) -> str:
    """Return words as they stand within a sentence; names, letters and units keep their case."""
    first = words.split(" ", 1)[0]
    keeps = len(first) > 1 and any(letter.isupper() for letter in first[1:])
    return words if keeps or first.endswith("/") else f"{words[:1].lower()}{words[1:]}"


def stop(words: str) -> str:
    """Return words as a sentence."""
    bare = words.strip()
    return upper(bare) if bare.endswith((".", "?", "!")) else f"{upper(bare)}."
