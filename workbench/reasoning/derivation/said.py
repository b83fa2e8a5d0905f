"""What a rule says: a value with its grounds, or why nothing can be said."""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.analysis.application.laid import worst
from workbench.reasoning.results import UNKNOWN, Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area, Record, Source, SurveyEntry
from workbench.records.codes import Quality

Rule = Callable[[Scene], Finding]
Settled = tuple[tuple[str, str], ...]
YES, NO = "yes", "no"
HOLDS, HOLDS_NOT, OPEN = True, False, None
"""Whether something holds for an area, or the records leave it open."""


def found(
    value: str,
    words: str,
    sources: Iterable[Source],
    *,
    n: int | None = None,
    method: str = "",
    quality: Quality = Quality.GOOD,
    settled_by: Settled = (),
    shares: tuple[tuple[str, float], ...] = (),
) -> Finding:
    """Return a finding; its key is set by whoever asked."""
    held = tuple(dict.fromkeys(sources))
    return Finding(
        key="",
        value=str(value),
        n=len(held) if n is None else n,
        method=method,
        quality=quality,
        sources=held,
        words=words,
        settings_used=settled_by,
        shares=shares,
    )


def silent(words: str, sources: Iterable[Source] = ()) -> Finding:
    """Return that the records say nothing, and why."""
    return Finding(key="", value=UNKNOWN, words=words, sources=tuple(dict.fromkeys(sources)))


def sources_of(records: Iterable[Record]) -> tuple[Source, ...]:
    """Return the records as sources, each once."""
    return tuple(dict.fromkeys(record.source for record in records))


def share_in_words(part: int, whole: int, noun: str) -> str:
    """Return a share of some in words: "3 of 4 samples", or "the one sample"."""
    return f"the one {noun}" if whole == 1 else f"{part} of {whole} {noun}s"


def by_number(n: int, *, full: int = 3) -> Quality:
    """Return the quality that so many readings give: good from `full` on, else fair."""
    return Quality.GOOD if n >= full else Quality.FAIR


# -- signs seen or looked for


def seen(scene: Scene, forms: Sequence[str], what: str) -> Finding:
    """Return whether any of some forms or signs was seen on this side; silent if nobody looked."""
    rows = scene.signs(*forms)
    if not rows:
        return silent(f"nobody recorded looking for {what} in {scene.ground}")
    hits = tuple(row for row in rows if row.seen)
    looked = sum(row.looked_at or row.count or 1 for row in rows)
    if not hits:
        return found(
            NO, f"{what} {_was(what)} looked for in {scene.ground} and not found", sources_of(rows),
            n=looked, method="survey", quality=by_number(looked),
        )  # fmt: skip
    share = _share_seen(rows)
    few = len(hits) < len(rows) or (share is not None and share < scene.settings.few_seen)
    if share is not None and share < 0.5 and few:
        seen_at, looked_at = _of_looks(rows)
        where = f"{seen_at} of {looked_at} places looked at in {scene.ground}"
        words = f"{what} {_was(what)} seen at {where}"
        return silent(f"{words}, too few to say either way", sources_of(rows))
    return found(
        YES, f"{what} {_was(what)} seen in {scene.ground}{_counted(hits)}", sources_of(hits),
        n=looked, method="survey", quality=by_number(looked),
    )  # fmt: skip


_AFTER_THE_NOUN = re.compile(r" (?:of|on|over|between|that|beneath|behind|for|from|around) ")


def _was(what: str) -> str:
    """Return "were" where what is looked for is many things, as "runs or sags"."""
    noun = _AFTER_THE_NOUN.split(what)[0]
    many = noun.endswith("s") and not noun.startswith(("a ", "an ")) and "debris" not in noun
    return "were" if many else "was"


def _share_seen(rows: Sequence[SurveyEntry]) -> float | None:
    """Return the share of what was looked at that showed the sign."""
    counted = [row for row in rows if row.count is not None and row.looked_at]
    if counted and len(counted) == len(rows):
        return sum(row.count or 0 for row in counted) / sum(row.looked_at or 0 for row in counted)
    return sum(row.seen for row in rows) / len(rows) if rows else None


def _of_looks(rows: Sequence[SurveyEntry]) -> tuple[int, int]:
    """Return at how many places a sign was seen, and at how many it was looked for."""
    counted = [row for row in rows if row.count is not None and row.looked_at]
    if len(counted) < len(rows):
        return sum(row.seen for row in rows), len(rows)
    return sum(row.count or 0 for row in rows), sum(row.looked_at or 0 for row in rows)


def _counted(rows: Sequence[SurveyEntry]) -> str:
    if any(row.count is None or not row.looked_at for row in rows):
        return ""
    hits, looked = _of_looks(rows)
    return f" ({hits} of {looked} looked at)"


def either(first: Finding, second: Finding) -> Finding:
    """Return the first finding that is known, "yes" before "no"."""
    known = [one for one in (first, second) if one.known]
    positive = [one for one in known if one.value == YES]
    return (positive or known or [first])[0]


# -- verdicts area by area


@dataclass(frozen=True, slots=True)
class Verdict:
    """What holds for one area: yes, no, or not known."""

    area: Area
    holds: bool | None
    words: str
    sources: tuple[Source, ...]
    quality: Quality = Quality.GOOD
    likely: bool | None = None
    """What the record says on its face, where its doubt leaves `holds` open."""

    @property
    def on_its_face(self) -> bool | None:
        """What holds, or what the record says on its face."""
        return self.likely if self.holds is None else self.holds


def settle(
    scene: Scene,
    verdicts: Sequence[Verdict],
    *,
    yes: str,
    no: str,
    nothing: str,
    settled_by: Settled = (),
) -> Finding:
    """Return what holds for the areas together: yes for at least half of those known.

    A few areas of many say neither: what holds in some of the failing areas only does not
    account for the rest. Nor is it "yes" where the doubt of the dates leaves as many areas open.
    """
    known = [one for one in verdicts if one.holds is not None]
    sources = [source for one in known for source in one.sources]
    if not known:
        told = next((one.words for one in verdicts if one.words), "")
        words = f"{nothing}, for instance {told}" if told else nothing
        return replace(silent(words, _sources(verdicts)), leaning=_leaning(verdicts))
    hits = [one for one in known if one.holds]
    quality = worst(one.quality for one in known)
    if len(known) < len(verdicts) and quality is Quality.GOOD:
        quality = Quality.FAIR
    if not hits:
        detail = known[0].words
        return found(
            NO, _joined(no, detail), sources, quality=quality, method="log", settled_by=settled_by
        )
    words = _joined(f"{yes} in {_of_areas(scene, hits, verdicts)}", hits[0].words)
    if 2 * len(hits) < len(known):
        return silent(f"{words}; the others do not show it", sources)
    left_open = [one for one in verdicts if one.holds is None and one.likely is not None]
    if len(left_open) >= len(hits):
        words = f"{words}; the doubt of the dates leaves {len(left_open)} open"
        return replace(silent(words, _sources(verdicts)), leaning=_leaning(verdicts))
    hit_sources = [source for one in hits for source in one.sources]
    hit_quality = worst(one.quality for one in hits)
    return found(
        YES, words, hit_sources or sources, quality=hit_quality, method="log",
        settled_by=settled_by,
    )  # fmt: skip


def _of_areas(scene: Scene, hits: Sequence[Verdict], verdicts: Sequence[Verdict]) -> str:
    """Return in how many areas of a side something holds, and which count through their parts."""
    whole = len(verdicts)
    side = str(scene.ground) if whole > 1 else str(scene.ground).replace("areas", "area")
    all_ = {1: "the", 2: "both"}.get(whole, f"all {whole}")
    words = f"{all_} {side}" if len(hits) == whole else f"{len(hits)} of {whole} {side}"
    if not scene.divided:
        return words
    standing = [
        f"{', '.join(one.area.ref for one in verdicts if one.area.within == area.ref)} standing "
        f"for {area.ref}"
        for area in scene.divided
    ]
    return f"{words}, {'; '.join(standing)}"


def _leaning(verdicts: Sequence[Verdict]) -> str:
    """Return "yes" where most areas show it on the face of their records, else nothing."""
    told = [one.on_its_face for one in verdicts if one.on_its_face is not None]
    return YES if told and 2 * sum(told) >= len(told) else ""


def _sources(verdicts: Sequence[Verdict]) -> list[Source]:
    return [source for one in verdicts for source in one.sources]


def _joined(words: str, detail: str) -> str:
    return f"{words} ({detail})" if detail else words


def named(*rules: Rule) -> Mapping[str, Rule]:
    """Return rules by the key that each is named after."""
    return {rule.__name__: rule for rule in rules}
