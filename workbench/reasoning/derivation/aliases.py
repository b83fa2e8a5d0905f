"""Circumstances that go together over all areas, so that the records cannot part them."""

from collections.abc import Mapping, Sequence
from itertools import combinations

from workbench.reasoning.derivation.climate import cold_verdicts, dew_verdicts
from workbench.reasoning.derivation.humidity import damp_verdicts, wet_verdicts
from workbench.reasoning.derivation.intervals import interval_verdicts
from workbench.reasoning.derivation.said import Verdict
from workbench.reasoning.results import Alias, Finding
from workbench.reasoning.scene import Scene

_CIRCUMSTANCES = {
    "recoat_interval_exceeded": lambda scene: interval_verdicts(scene, longest=True),
    "recoat_interval_too_short": lambda scene: interval_verdicts(scene, longest=False),
    "dew_point_margin_low": dew_verdicts,
    "humidity_above_limit_during_cure": damp_verdicts,
    "substrate_temp_below_min": cold_verdicts,
    "wetting_event_during_cure": wet_verdicts,
}
_WORDS = {
    "recoat_interval_exceeded": "the exceeded recoat interval",
    "recoat_interval_too_short": "the short recoat interval",
    "dew_point_margin_low": "the low dew-point margin",
    "humidity_above_limit_during_cure": "the high humidity",
    "substrate_temp_below_min": "the cold surface",
    "wetting_event_during_cure": "the wetting",
}


def aliases(scene: Scene, findings: Mapping[str, Finding]) -> tuple[Alias, ...]:
    """Return the pairs of circumstances that hold for the same areas, on both sides."""
    asked = {
        key: ([*ask(scene.failing)], [*ask(scene.sound)])
        for key, ask in _CIRCUMSTANCES.items()
        if key in findings and findings[key].override is None
    }
    held = {key: [*own, *other] for key, (own, other) in asked.items() if _in_play(own, other)}
    return tuple(
        _alias(a, b, held) for a, b in combinations(held, 2) if _together(held[a], held[b])
    )


def _in_play(own: Sequence[Verdict], other: Sequence[Verdict]) -> bool:
    """Return whether a circumstance tells failing from sound areas, on the face of the record."""
    here = [one.on_its_face for one in own if one.on_its_face is not None]
    there = [one.on_its_face for one in other if one.on_its_face is not None]
    return bool(here and there) and sum(here) * 2 >= len(here) and sum(there) * 2 < len(there)


def _together(first: Sequence[Verdict], second: Sequence[Verdict]) -> bool:
    both = [
        (a.on_its_face, b.on_its_face)
        for a, b in zip(first, second, strict=True)
        if a.on_its_face is not None and b.on_its_face is not None
    ]
    return all(a == b for a, b in both) and {a for a, _ in both} == {True, False}


def _alias(a: str, b: str, held: Mapping[str, Sequence[Verdict]]) -> Alias:
    areas = sum(one.on_its_face is True for one in held[a])
    words = (
        f"taken at the middle of what the records leave open, {_WORDS[a]} and {_WORDS[b]} go "
        f"together in the same areas ({areas} in all), so the records cannot part them"
    )
    sources = [s for key in (a, b) for one in held[key] for s in one.sources]
    return Alias(keys=(a, b), words=words, sources=tuple(dict.fromkeys(sources)))
