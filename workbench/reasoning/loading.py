"""Reading the knowledge from its files."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from workbench.reasoning.knowledge import (
    Cause,
    Cited,
    Confirming,
    ExpectedPlane,
    Knowledge,
    Lookalike,
    Observation,
    PlaneClass,
    Prediction,
    Side,
    Stage,
    Work,
)
from workbench.records import Direction, Weight
from workbench.resources import resource
from workbench.trade.register import register


@cache
def load_knowledge() -> Knowledge:
    """Return the knowledge of the program: one file per cause, one per stage of observations."""
    causes = (_cause(path) for path in sorted(resource("causes").glob("*.toml")))
    stages = (_stage(resource("observations") / f"{stage}.toml", stage) for stage in Stage)
    works = _read(resource("sources.toml"))
    return Knowledge(
        causes=tuple(causes),
        observations=tuple(one for stage in stages for one in stage),
        tests=register(),
        works={name: Work(id=name, **said) for name, said in works.items()},
    )


def _read(path: Path) -> dict[str, Any]:
    with path.open("rb") as file:
        return tomllib.load(file)


def _stage(path: Path, stage: Stage) -> tuple[Observation, ...]:
    return tuple(_observation(key, stage, said) for key, said in _read(path).items())


def _observation(key: str, stage: Stage, said: dict[str, Any]) -> Observation:
    plain = _tuples(said | {"side": Side(said["side"])})
    return Observation(key=key, stage=stage, **plain)


def _cause(path: Path) -> Cause:
    said = _read(path)
    predictions = [
        _tuples(one | {"direction": Direction(one["direction"]), "weight": Weight(one["weight"])})
        for one in said["predictions"]
    ]
    planes = [one | {"kind": PlaneClass(one["kind"])} for one in said.get("planes", ())]
    parts: dict[str, Any] = {
        "planes": tuple(ExpectedPlane(**one) for one in planes),
        "predictions": tuple(Prediction(**one) for one in predictions),
        "tests": tuple(Confirming(**one) for one in said.get("tests", ())),
        "lookalikes": tuple(Lookalike(**one) for one in said.get("lookalikes", ())),
        "sources": tuple(Cited(**one) for one in said.get("sources", ())),
    }
    return Cause(id=path.stem, **_tuples(said | parts))


def _tuples(said: dict[str, Any]) -> dict[str, Any]:
    return {
        name: tuple(value) if isinstance(value, list) else value for name, value in said.items()
    }
