"""Findings from records: one small rule for each question, put to both sides of the case."""

from collections.abc import Mapping
from dataclasses import replace

from workbench.reasoning.derivation import (
    adhesion,
    age,
    appearance,
    beneath,
    between_coats,
    climate,
    cure,
    elements,
    exposure,
    features,
    humidity,
    infrared,
    intervals,
    laboratory,
    mixing,
    patches,
    pattern,
    position,
    preparation,
    ratings,
    service,
    site_tests,
    substrate,
    thickness,
    trials,
)
from workbench.reasoning.derivation.answered import answered
from workbench.reasoning.derivation.said import Rule
from workbench.reasoning.knowledge import Knowledge, Observation, Side
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene

_MODULES = (
    intervals, climate, humidity, mixing, between_coats, preparation, exposure, age, beneath,
    service, pattern, features, position, patches, appearance, adhesion, ratings, trials, substrate,
    thickness, site_tests, infrared, cure, elements, laboratory,
)  # fmt: skip
RULES: Mapping[str, Rule] = {key: rule for one in _MODULES for key, rule in one.RULES.items()}


def derive(scene: Scene, knowledge: Knowledge) -> dict[str, Finding]:
    """Return one finding for each observation key, in the order of the knowledge."""
    return {one.key: answered(scene, one, _derive(scene, one)) for one in knowledge.observations}


def _derive(scene: Scene, observation: Observation) -> Finding:
    rule = RULES.get(observation.key)
    if rule is None:
        words = "no record gives this; the investigator is asked"
        return Finding(key=observation.key, words=words, sources=scene.sources)
    side = scene.sound if observation.side is Side.NONFAILING else scene
    held = _valid(observation, replace(rule(side), key=observation.key))
    if observation.side is not Side.FAILING or not held.known:
        return held
    sound = rule(scene.sound).value
    if scene.sound is scene.control or not scene.control.areas:
        return replace(held, sound=sound)
    return replace(held, sound=sound, control=rule(scene.control).value)


def _valid(observation: Observation, held: Finding) -> Finding:
    """Return a finding whose value the observation knows; else that it does not."""
    if not held.known or not observation.values or held.value in observation.values:
        return held
    words = f"“{held.value.replace('_', ' ')}” is none of the answers to this question"
    return Finding(key=held.key, words=words, sources=held.sources)
