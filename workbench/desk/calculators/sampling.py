"""Calculators of sampling: how many pieces to look at, and what those looked at say of all."""

from collections.abc import Iterable

from workbench.desk.calculators.frame import Calculator, Found, Given, Input
from workbench.trade.basis import Basis, Status
from workbench.trade.showing import COUNT, PERCENT, PLAIN

_MOST_PIECES = 1_000_000


def _whole(given: Given, name: str, least: int, most: int) -> int:
    value = given[name]
    if value != round(value) or not least <= value <= most:
        raise ValueError(f"{name} of {value:g}; it is a whole number from {least} to {most}")
    return round(value)


def _pieces(given: Given) -> Iterable[Found]:
    from workbench.analysis.comparison.proportions import exact_share_of_pieces, pieces_to_find_one

    pieces = _whole(given, "pieces", 1, _MOST_PIECES)
    confidence = given["confidence"]
    if not 50 <= confidence < 100:
        raise ValueError(f"confidence of {confidence:g} %; it is 50 or more and below 100 %")
    if given.any_of("failing"):
        failing = _whole(given, "failing", 1, pieces)
        needed = pieces_to_find_one(pieces, failing, confidence / 100)
        yield Found(name="look_at", label="to look at, to find one", kind=COUNT,
                    value=float(needed))  # fmt: skip
    if given.any_of("looked_at", "found"):
        looked_at = _whole(given, "looked_at", 1, pieces)
        found = _whole(given, "found", 0, looked_at)
        share = exact_share_of_pieces(found, looked_at, pieces, confidence / 100)
        yield Found(name="least", label="of all fail, at least", kind=COUNT,
                    value=share.low * pieces)  # fmt: skip
        yield Found(name="most", label="of all fail, at most", kind=COUNT,
                    value=share.high * pieces)  # fmt: skip


PIECES = Calculator(
    name="pieces",
    title="How many pieces to look at, and what they say of all",
    inputs=(
        Input(name="pieces", label="pieces there are", kind=PLAIN, required=True),
        Input(name="failing", label="to find one, if so many fail or more", kind=PLAIN),
        Input(name="looked_at", label="looked at", kind=PLAIN),
        Input(name="found", label="found to fail", kind=PLAIN),
        Input(name="confidence", label="confidence", kind=PERCENT, default="95"),
    ),
    formula="least n with C(N − K, n) / C(N, n) ≤ 1 − confidence; at least and at most by "
    "inverting the hypergeometric test, half the risk on each side",
    bases=(
        Basis("Cannon and Roe, Livestock Disease Surveys, 1982, table 1", Status.MEMORY),
        Basis("Konijn 1973, Buonaccorsi 1987: the interval", Status.MEMORY),
    ),
    compute=_pieces,
    caution="Drawn at random from all of them: pieces that were easy to reach, or were chosen "
    "because they fail, say nothing of the rest.",
)

CALCULATORS = (PIECES,)
