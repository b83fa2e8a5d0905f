"""What the pull-offs and all else that was measured say, for window, report and command alike.

The analysis is imported when the question is asked: a window opens without it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from workbench.records import Dossier

if TYPE_CHECKING:
    from workbench.analysis.comparison.results import Comparison
    from workbench.analysis.extent import AreaExtent, Extent
    from workbench.analysis.pattern.results import Pattern, SpatialDependence
    from workbench.analysis.strength.results import Group, StrengthResult, StrengthSettings


@dataclass(frozen=True, slots=True)
class Adhesion:
    """All that is known of adhesion: how strong, what differs, what it follows, how far it reaches.

    Attributes:
        strength: What the pull-offs say.
        measured: Ratings, thickness and every other quantity, compared between conditions.
        patterns: What the failure follows, strongest first.
        near_alike: Whether near places read alike; None with too few places.
        extent: How much fails, area by area.
    """

    strength: "StrengthResult"
    measured: "tuple[Comparison, ...]"
    patterns: "tuple[Pattern, ...]"
    near_alike: "SpatialDependence | None"
    extent: "Extent"


def adhesion(dossier: Dossier, settings: "StrengthSettings | None" = None) -> Adhesion:
    """Return what a case says of adhesion."""
    from workbench.analysis.comparison.between_conditions import CompareSettings, compare_measured
    from workbench.analysis.comparison.measured import measured_in
    from workbench.analysis.extent import extent_of
    from workbench.analysis.pattern.follows import patterns_of
    from workbench.analysis.pattern.space import dependence, readings_at
    from workbench.analysis.strength import StrengthSettings, strength_by_plane

    chosen = settings or StrengthSettings.of(dossier)
    of_measured = CompareSettings(
        confidence=chosen.confidence, fewest_areas=chosen.fewest_areas, seed=chosen.seed
    )
    strength = strength_by_plane(dossier, chosen)
    read = readings_at(dossier, strength.pulls)
    return Adhesion(
        strength=strength,
        measured=compare_measured(measured_in(dossier), of_measured),
        patterns=patterns_of(dossier, strength),
        near_alike=dependence(read.places, read.mpa, seed=chosen.seed),
        extent=extent_of(dossier, chosen.confidence),
    )


def adhesion_members(found: Adhesion) -> Mapping[str, object]:
    """Return the answer as plain members, as the command prints it in JSON."""
    strength = found.strength
    return {
        "groups": [_group(group) for group in strength.groups],
        "comparisons": [_comparison(one) for one in (*strength.comparisons, *found.measured)],
        "trials": [_group(group) for group in strength.trials],
        "patterns": [_pattern(one) for one in found.patterns],
        "near_alike": found.near_alike,
        "extent": [_extent(one) for one in found.extent.areas],
        "left_out": [
            {"source": one.source.label, "wrong": one.wrong, "right": one.right}
            for one in strength.left_out
        ],
        "remarks": list(strength.remarks),
        "settings": strength.settings,
    }


def _group(group: "Group") -> Mapping[str, object]:
    return {
        "condition": group.condition,
        "plane": str(group.plane),
        "plane_name": group.plane_name,
        "system": group.system,
        "film": str(group.film),
        "n": group.n,
        "broke_here": group.broke_here,
        "at_least": group.at_least,
        "at_most": group.at_most,
        "weight": group.weight,
        "median_mpa": group.median_mpa,
        "low_mpa": group.low_mpa,
        "high_mpa": group.high_mpa,
        "confidence": group.confidence,
        "method": group.method,
        "at_least_mpa": group.at_least_mpa,
        "fractile": group.fractile,
        "lower_bound": group.lower_bound,
        "without_model": group.curve,
        "second_opinion": group.second,
        "spread": group.spread,
        "weibull_weight": group.weibull_weight,
        "tentative": group.tentative,
        "disagree": group.disagree,
        "naive": group.naive,
        "remarks": group.remarks,
        "sources": [source.label for source in group.sources],
    }


def _comparison(one: "Comparison") -> Mapping[str, object]:
    return {
        "quantity": one.quantity,
        "unit": one.unit,
        "one": one.one,
        "other": one.other,
        "effect": one.effect,
        "value": one.value,
        "low": one.low,
        "high": one.high,
        "confidence": one.confidence,
        "p": one.p,
        "p_corrected": one.p_corrected,
        "p_areas": one.p_areas,
        "p_logrank": one.p_logrank,
        "looks": one.looks,
        "test": one.test,
        "strata": one.strata,
        "verdict": one.verdict,
        "remarks": one.remarks,
        "sources": [source.label for source in one.sources],
    }


def _pattern(one: "Pattern") -> Mapping[str, object]:
    return {
        "name": one.name,
        "kind": one.kind,
        "values": one.tallies,
        "areas": one.areas,
        "p": one.p,
        "p_corrected": one.p_corrected,
        "p_readings": one.p_readings,
        "looks": one.looks,
        "same_as": one.same_as,
        "verdict": one.verdict,
    }


def _extent(one: "AreaExtent") -> Mapping[str, object]:
    return {
        "area": one.area.ref,
        "condition": one.area.condition,
        "own_m2": one.own_m2,
        "size_from": one.size_from,
        "pieces": one.pieces,
        "visible": one.visible,
        "sounded": one.sounded,
        "failing_m2": one.failing_m2,
        "sampled": one.sampled,
        "remarks": one.remarks,
        "sources": [source.label for source in one.sources],
    }
