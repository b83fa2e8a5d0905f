"""What the reasoning returns: every value with the records it came from."""

from dataclasses import dataclass
from enum import StrEnum

from workbench.records import CausalRole, Grade, Source
from workbench.records.codes import Quality

UNKNOWN = "unknown"
MIXED = "MIXED"


class Ungraded(StrEnum):
    """What stands in the place of a grade where none can be given."""

    NOT_EXAMINED = "not examined"

    @property
    def firmness(self) -> int:
        """As little as what is not supported: any opinion in favour is firmer."""
        return Grade.NOT_SUPPORTED.firmness


Graded = Grade | Ungraded


class Bearing(StrEnum):
    """How one observation bears on one candidate cause."""

    SUPPORTS = "supports"
    CONTRADICTS = "contradicts"
    WOULD_EXCLUDE = "would exclude, awaiting confirmation"
    EXCLUDES = "excludes"
    SILENT = "silent"
    NOT_READ = "not read"

    @property
    def sign(self) -> str:
        """One sign that tells the bearing without colour."""
        return _SIGNS[self]


_SIGNS = {
    Bearing.SUPPORTS: "+",
    Bearing.CONTRADICTS: "−",
    Bearing.WOULD_EXCLUDE: "✕?",
    Bearing.EXCLUDES: "✕",
    Bearing.SILENT: "·",
    Bearing.NOT_READ: "○",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """What an investigator put in the place of a derived value, and why."""

    derived: str
    by: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The value of one observation key, as the records give it.

    Attributes:
        key: Key of the observation.
        value: One of the key's values; "unknown" where the records are silent.
        n: How many readings or records it rests on.
        method: How it was derived, in a few words.
        quality: How far the records behind it can be trusted; None where the value is unknown.
        sources: The records it came from, failing side first.
        words: One sentence that says what was found, or why nothing can be said.
        settings_used: Names of the thresholds that decided it, with their values.
        sound: What the same rule gives for the areas that look sound; empty where the key
            asks only once.
        control: What it gives for the controls, where there are any besides.
        override: What the records alone would have said, where an investigator answered.
        shares: Shares of the readings by value, 0 to 1, where they do not all agree.
        leaning: What the records say on their face, where their doubt leaves the value unknown.
        speaks_of: For a trial made with one circumstance alone: the identifiers of the causes it
            was made for, each with what came of it. It says nothing of the others.
    """

    key: str
    value: str = UNKNOWN
    n: int = 0
    method: str = ""
    quality: Quality | None = None
    sources: tuple[Source, ...] = ()
    words: str = ""
    settings_used: tuple[tuple[str, str], ...] = ()
    sound: str = ""
    control: str = ""
    override: Override | None = None
    shares: tuple[tuple[str, float], ...] = ()
    leaning: str = ""
    speaks_of: tuple[tuple[str, str], ...] = ()

    @property
    def known(self) -> bool:
        """Whether the records, or a person, gave a value."""
        return self.value != UNKNOWN

    @property
    def contrasted(self) -> bool:
        """Whether sound areas or controls were read too and came out otherwise.

        Controls that show the same as failing areas spoil the contrast; a mixture is none.
        """
        others = (self.sound, self.control)
        apart = any(one not in ("", UNKNOWN, MIXED, self.value) for one in others)
        return self.known and apart and self.control != self.value

    @property
    def same_on_both_sides(self) -> bool:
        """Whether the sound areas came out the same, or the controls where those tell nothing."""
        silent = self.sound in ("", UNKNOWN, MIXED)
        compared = self.control if silent else self.sound
        return self.known and compared == self.value and not self.contrasted


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One candidate against one observation.

    Attributes:
        cause: Identifier of the cause.
        key: Key of the observation.
        bearing: How the one bears on the other.
        finding: The finding; its value is "unknown" where the bearing is "not read".
        points: Indicative points, 0 where it does not count; for ordering only, never printed.
        counted: Whether it is the reading that counts within its group of evidence.
        predicted: Values the cause predicts for the key.
        expect: What the cause would lead one to find.
        why: Why it bears so.
        decisive: Whether it alone could settle for or against the cause.
        same_in_sound_areas: Whether the reading is the same where the coating holds, so that it
            tells a background and not a cause.
        missed: Whether it speaks against the cause by not being what the cause expects.
    """

    cause: str
    key: str
    bearing: Bearing
    finding: Finding
    points: float = 0.0
    counted: bool = False
    predicted: tuple[str, ...] = ()
    expect: str = ""
    why: str = ""
    decisive: bool = False
    same_in_sound_areas: bool = False
    missed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Rival:
    """A candidate that the evidence has, or has not, parted from another."""

    cause: str
    title: str
    closed: bool
    words: str
    """What closed it, or what would tell the two apart."""
    sources: tuple[Source, ...] = ()
    pressing: bool = False
    """Whether it is open and accounts for something particular that the other does not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One candidate cause weighed against all findings.

    Attributes:
        cause: Identifier.
        title: Its name in words.
        rank: 1 for the best supported; candidates that the evidence cannot part share a rank.
        joint: Whether it shares its rank.
        behind: Names of leading processes of damage that it may lie behind, and is no rival of.
        grade: The grade that stands: the investigator's where there is one, else the proposal.
        proposed: The grade that the rules give; none where nothing telling was read.
        role: The part it plays, where it is retained.
        is_process: Whether it is a damage process whose own cause lies upstream.
        upstream: Identifiers of the causes that may lie behind a process.
        points: Sum of the counted points; for ordering only, never printed.
        supporting: Cells that speak for it, the weightiest first.
        opposing: Cells that speak against it, exclusions first.
        unread: Cells of observations that would bear on it and have not been read.
        direct: Cells of direct evidence at the plane.
        contrast: Cells in which failing and sound areas differ as the cause predicts.
        rivals: The candidates it may be taken for, closed and open.
        because: Why the rules give that grade, a sentence each.
        decided_by: Who gave the standing grade; empty for a proposal.
        decision_reason: The reason written for it.
        needs_reason: Whether the standing grade is firmer than the rules allow and no reason is
            written.
    """

    cause: str
    title: str
    rank: int
    grade: Graded
    proposed: Graded
    role: CausalRole | None = None
    is_process: bool = False
    upstream: tuple[str, ...] = ()
    points: float = 0.0
    supporting: tuple[Cell, ...] = ()
    opposing: tuple[Cell, ...] = ()
    unread: tuple[Cell, ...] = ()
    direct: tuple[Cell, ...] = ()
    contrast: tuple[Cell, ...] = ()
    rivals: tuple[Rival, ...] = ()
    because: tuple[str, ...] = ()
    decided_by: str = ""
    decision_reason: str = ""
    needs_reason: bool = False
    joint: bool = False
    behind: tuple[str, ...] = ()

    @property
    def place(self) -> str:
        """Its rank as it is shown: "4", or "1=" where others share it."""
        return f"{self.rank}=" if self.joint else str(self.rank)

    @property
    def excluded_by(self) -> tuple[Cell, ...]:
        """Cells that exclude the cause, or would once a person confirms it."""
        barring = (Bearing.EXCLUDES, Bearing.WOULD_EXCLUDE)
        return tuple(cell for cell in self.opposing if cell.bearing in barring)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One observation of the matrix, with its cell for every candidate shown.

    Attributes:
        key: Key of the observation.
        question: The question in words.
        label: What was found, in a few words; the question where nobody has read it.
        stage: background, survey, field or lab.
        group: Its group of evidence.
        finding: The finding.
        cells: One cell for each of the matrix's candidates, in their order.
    """

    key: str
    question: str
    label: str
    stage: str
    group: str
    finding: Finding
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Matrix:
    """Candidates against observations, sorted by what stands."""

    candidates: tuple[Candidate, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutcomeMeaning:
    """What one outcome of a test would do."""

    key: str
    value: str
    words: str
    strengthens: tuple[str, ...] = ()
    weakens: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    leader_after: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTest:
    """A test not yet read, and how far it would separate what is left.

    Attributes:
        test: Identifier in the register of tests; empty for a question to a person or a record.
        name: What it is called.
        standard: The document it follows.
        setting: "field", "lab", or "desk" for records to recover and questions to ask.
        cost: low, medium or high.
        delay: hours, days or weeks.
        destructive: no, small or yes.
        caution: What to take care of, from the register.
        keys: Keys of the observations it would read.
        parts: Identifiers of the candidates it would tell apart.
        change: Expected change over the plausible outcomes; for ordering only.
        outcomes: What each outcome would mean.
        look_for: What to look for, candidate by candidate.
    """

    test: str
    name: str
    standard: str = ""
    setting: str = ""
    cost: str = ""
    delay: str = ""
    destructive: str = ""
    caution: str = ""
    keys: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    change: float = 0.0
    outcomes: tuple[OutcomeMeaning, ...] = ()
    look_for: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """An observation that only a person can answer, in the order of how much it would settle."""

    key: str
    text: str
    values: tuple[str, ...]
    change: float = 0.0
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fragility:
    """A single finding that, if wrong, would change the leading cause or its grade."""

    key: str
    finding: Finding
    leader_without: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Alias:
    """Two circumstances that go together over all areas, so that records cannot part them."""

    keys: tuple[str, ...]
    words: str
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """One sentence of the reasoning, and the records it rests on (never none)."""

    text: str
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """A paragraph about one candidate.

    Attributes:
        name: What edits refer to, as "recoat-window-exceeded: found".
        heading: What it is about: "What it would predict", "What was found" …
        cause: Identifier of the candidate; empty for the whole case.
        sentences: Its sentences.
        digest: Digest of the findings behind it; an edit made on another digest is stale.
        edited_by: Who put their own words in its place; empty for none.
        stale: Whether the records behind an edited paragraph have changed since.
    """

    name: str
    heading: str
    cause: str
    sentences: tuple[Sentence, ...]
    digest: str = ""
    edited_by: str = ""
    stale: bool = False

    @property
    def text(self) -> str:
        """The sentences, one after the other."""
        return " ".join(sentence.text for sentence in self.sentences)


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """One entry of “what stays unexplained” or “what speaks against”."""

    words: str
    sources: tuple[Source, ...]
    said_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnowledgeChange:
    """A cause, observation or weight that differs from the program's, for this case."""

    what: str
    reason: str
    by: str
    source: Source
    before: str = ""
    """What the program's knowledge says instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A part of the case with its own cause: the failing areas that go together.

    Attributes:
        name: What the areas have in common, in words.
        areas: Labels of the failing areas.
        leaders: Identifiers of the causes that lead here.
        reasoning: The whole reasoning for this place alone.
    """

    name: str
    areas: tuple[str, ...]
    leaders: tuple[str, ...]
    reasoning: "Reasoning"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reasoning:
    """Everything that follows from the records of a case.

    Attributes:
        findings: One for each observation key, in the order of the knowledge.
        candidates: All causes that apply, best supported first.
        leaders: Identifiers of the causes that lead: one, several for several places, or those
            that the evidence cannot part.
        inconclusive: Whether two or more remain that the evidence cannot part.
        verdict: One sentence that says so.
        places: The places that have causes of their own; empty where the case is one.
        next_tests: Tests not yet read, the one that would separate most first.
        questions: What only a person can answer, the most telling first.
        fragilities: Findings on which the outcome hangs.
        unexplained: What the leading cause does not explain.
        against: What speaks against the leading cause.
        lists_open: Lists that are empty without a person having said so.
        aliases: Circumstances that records cannot part.
        paragraphs: The reasoning in words.
        rejections: Why the rejected candidates are not held, those together that fall by one
            finding.
        changes: How the knowledge of this case differs from the program's.
        answered: Findings in which an investigator overrode the records.
        basis: Records on which the reasoning as a whole stands, for sentences about silence.
    """

    findings: tuple[Finding, ...]
    candidates: tuple[Candidate, ...]
    leaders: tuple[str, ...]
    inconclusive: bool
    verdict: str
    places: tuple[Place, ...] = ()
    next_tests: tuple[NextTest, ...] = ()
    questions: tuple[Question, ...] = ()
    fragilities: tuple[Fragility, ...] = ()
    unexplained: tuple[Listed, ...] = ()
    against: tuple[Listed, ...] = ()
    lists_open: tuple[str, ...] = ()
    aliases: tuple[Alias, ...] = ()
    paragraphs: tuple[Paragraph, ...] = ()
    rejections: tuple[Paragraph, ...] = ()
    changes: tuple[KnowledgeChange, ...] = ()
    answered: tuple[Finding, ...] = ()
    basis: tuple[Source, ...] = ()

    def candidate(self, cause: str) -> Candidate | None:
        """Return the candidate called `cause`, where it applies to the case."""
        return next((one for one in self.candidates if one.cause == cause), None)

    def finding(self, key: str) -> Finding:
        """Return the finding for `key`; an unknown one where the knowledge has no such key."""
        return next((one for one in self.findings if one.key == key), Finding(key=key))

    def paragraphs_of(self, cause: str) -> tuple[Paragraph, ...]:
        """Return the paragraphs about one candidate."""
        return tuple(one for one in self.paragraphs if one.cause == cause)
