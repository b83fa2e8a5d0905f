"""Reading the knowledge from its files."""

import tomllib
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from workbench.reasoning.knowledge import (
    BREAK_PLANE,
    FOR,
    FORM,
    Cause,
    Cited,
    Confirming,
    ExpectedPlane,
    Knowledge,
    Lookalike,
    Observation,
    OnSubstrate,
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
    held = tuple(ExpectedPlane(**one) for one in planes)
    told = tuple(Prediction(**one) for one in predictions)
    parts: dict[str, Any] = {
        "planes": held,
        "predictions": (*told, *_implied(told, held, said.get("forms", ()))),
        "tests": tuple(Confirming(**one) for one in said.get("tests", ())),
        "on": tuple(OnSubstrate(**_tuples(one)) for one in said.get("on", ())),
        "lookalikes": tuple(Lookalike(**one) for one in said.get("lookalikes", ())),
        "sources": tuple(Cited(**one) for one in said.get("sources", ())),
    }
    return Cause(id=path.stem, **_tuples(said | parts))


def _implied(
    told: Sequence[Prediction], planes: Iterable[ExpectedPlane], forms: Iterable[str]
) -> Iterator[Prediction]:
    """Return what follows from where a cause parts the system and what forms it shows.

    Only where its own predictions name no plane or form to be found; what they say of one
    goes before.
    """
    kinds = [one.kind.value for one in planes if one.primary]
    for key, values, weight in (
        (BREAK_PLANE, kinds, Weight.MODERATE), (FORM, forms, Weight.WEAK),
    ):  # fmt: skip
        own = [one for one in told if one.key == key]
        named = {value for one in own for value in one.values}
        left = tuple(value for value in values if value not in named and value != PlaneClass.NONE)
        if left and not any(one.direction in FOR for one in own):
            yield Prediction(
                key=key, values=left, direction=Direction.LIKELY, weight=weight, implied=True
            )


def _tuples(said: dict[str, Any]) -> dict[str, Any]:
    return {
        name: tuple(value) if isinstance(value, list) else value for name, value in said.items()
    }
