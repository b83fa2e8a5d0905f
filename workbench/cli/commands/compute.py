"""Compute one of the formulas of the trade, with its source."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson
from workbench.cli.printing import say, say_json

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbench.desk.calculators import Calculation, Calculator
    from workbench.trade.settings import Settings
    from workbench.trade.showing import System

Name = Annotated[str, typer.Argument(metavar="NAME", help="The calculator; none lists them.")]
Inputs = Annotated[
    list[str] | None, typer.Argument(metavar="KEY=VALUE", help="Inputs, as air=21 or dry=5mil.")
]
Units = Annotated[
    str, typer.Option("--units", metavar="SI|US|both", help="Units of bare numbers and results.")
]
OfCase = Annotated[
    Path | None,
    typer.Option("--case", metavar="CASE", help="A case whose choices between sources hold."),
]


def run(
    name: Name = "",
    inputs: Inputs = None,
    *,
    units: Units = "",
    case: OfCase = None,
    json: AsJson = False,
) -> int:
    """Compute one of the formulas of the trade, and say where it stands.

    Numbers may carry their unit (“air=70 degF”); without one they are in the units chosen.
    """
    from workbench.desk.calculators import CALCULATORS, calculate, calculator
    from workbench.trade.showing import Showing

    if not name:
        _list(CALCULATORS.values())
        return 0
    settings, of_case = _of_case(case)
    showing = Showing(_system(units or of_case))
    found = calculate(calculator(name), _given(inputs or []), settings, showing=showing)
    if json:
        say_json(_members(found))
    else:
        _say(found)
    return 0


def _list(calculators: "Iterable[Calculator]") -> None:
    for one in calculators:
        say(f"{one.name:12} {one.title}")
        for each in one.inputs:
            needed = "" if each.required or each.default or each.setting else "optional"
            words = " | ".join(each.words)
            hint = words or each.hint
            said = ", ".join(filter(None, (each.label, needed, hint)))
            say(f"    {each.name:16} {said}")


def _of_case(case: Path | None) -> "tuple[Settings | None, str]":
    """Return the choices of a case, and the units it is shown in."""
    if case is None:
        return None, ""
    from workbench.desk.case import Case
    from workbench.trade.settings import settings_of

    with Case.open(case, author="", read_only=True) as opened:
        return settings_of(opened.dossier), opened.dossier.entry("units")


def _system(text: str) -> "System":
    from workbench.desk.calculators import CalculatorError
    from workbench.trade.showing import System

    for system in System:
        if text.lower() == system.lower():
            return system
    if text:
        raise CalculatorError(f"“{text}” are no units; choose SI, US or both")
    return System.SI


def _given(inputs: list[str]) -> dict[str, str]:
    from workbench.desk.calculators import CalculatorError

    given: dict[str, str] = {}
    for one in inputs:
        name, equals, value = one.partition("=")
        if not equals or not name.strip():
            raise CalculatorError(f"“{one}” is no input; write name=value, as air=21")
        given[name.strip()] = value
    return given


def _members(found: "Calculation") -> dict[str, object]:
    return {
        "calculator": found.calculator.name,
        "given": dict(found.given),
        "results": [
            {
                "name": one.name,
                "label": one.label,
                "value": one.value,
                "unit": one.kind.si if one.kind else None,
                "words": one.words or None,
                "shown": one.shown(found.showing),
            }
            for one in found.found
        ],
        "formula": found.calculator.formula,
        "sources": [str(basis) for basis in found.calculator.bases],
        "caution": found.calculator.caution or None,
    }


def _say(found: "Calculation") -> None:
    calculator = found.calculator
    say(calculator.title)
    for name, text in found.given.items():
        say(f"  {name:16} {text}")
    say()
    for label, text in found.lines():
        say(f"  {label:36} {text}")
    say()
    say(f"Formula: {calculator.formula}")
    say(f"Source: {'; '.join(str(basis) for basis in calculator.bases)}")
    if calculator.caution:
        say(calculator.caution)
