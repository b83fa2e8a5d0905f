"""Calculators of ratings: what an area is rated by one standard, and by another."""

from collections.abc import Iterable

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.scales import (
    Boundary,
    iso_2409_of_tape,
    rust_grade,
    rust_grade_of_rating,
    rust_rating,
    tape_rating,
)
from workbench.trade.showing import PERCENT, PLAIN


def _tape(given: Given) -> Iterable[Found]:
    rating = tape_rating(given["removed"], Boundary(given.word("boundary")))
    yield Found(name="d3359b", label="ASTM D3359 B, 5 is the best", words=f"{rating}B")
    other = iso_2409_of_tape(rating)
    yield Found(name="iso2409", label="ISO 2409, 0 is the best", words=f"{other}")


TAPE = Calculator(
    name="tape",
    title="Tape rating of an area removed",
    inputs=(
        Input(name="removed", label="area removed", kind=PERCENT, required=True),
        Input(name="boundary", label="on the boundary", words=tuple(Boundary),
              setting="tape_boundary"),
    ),
    formula="0, under 5, 5 to 15, 15 to 35, 35 to 65, over 65 % are 5B to 0B; ISO is 5 − B",
    bases=(
        Basis("ASTM D3359, two university pages", Status.READ),
        Basis("ISO 2409", Status.MEMORY),
        PRACTICE,
    ),
    compute=_tape,
)  # fmt: skip


def _rust(given: Given) -> Iterable[Found]:
    if given.any_of("rusted") == given.any_of("rating"):
        raise ValueError("give either rusted or rating")
    if (rusted := given.get("rusted")) is not None:
        yield Found(name="d610", label="ASTM D610, 10 is the best", words=f"{rust_rating(rusted)}")
        grade = rust_grade(rusted)
    else:
        if not given["rating"].is_integer():
            raise ValueError(f"rating: {given['rating']:g} is no whole number from 0 to 10")
        grade = rust_grade_of_rating(int(given["rating"]))
    yield Found(name="iso4628_3", label="ISO 4628-3, Ri 0 is the best", words=f"Ri {grade}")


RUST = Calculator(
    name="rust",
    title="Rust rating of an area rusted",
    inputs=(
        Input(name="rusted", label="area rusted", kind=PERCENT, hint="or the rating"),
        Input(name="rating", label="rating by ASTM D610", kind=PLAIN, hint="0 to 10"),
    ),
    formula="D610: up to 0.01, 0.03, 0.1, 0.3, 1, 3, 10, 16, 33, 50 % are 10 to 1; ISO: up to 0, "
    "0.05, 0.5, 1, 8 % are Ri 0 to 4; ratings 10, 9, 7, 6, 4 are Ri 0 to 4, between two the worse",
    bases=(
        Basis("ASTM D610, table 1", Status.READ),
        Basis("ISO 4628-3, areas and annex", Status.MEMORY),
    ),
    compute=_rust,
    caution="Rust that shows, not rust under the film. By area and by rating the grade may differ "
    "by one: say which way it was found.",
)

CALCULATORS = (TAPE, RUST)
