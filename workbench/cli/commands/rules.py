"""List the rules and thresholds of a case with their sources; choose otherwise for the case."""

from typing import TYPE_CHECKING, Annotated

import typer

from workbench.cli.options import AsJson, By, CasePath
from workbench.cli.printing import count, say, say_json
from workbench.records import KnownError

if TYPE_CHECKING:
    from workbench.desk.case import Case
    from workbench.trade.settings import Choice


def run(
    case: CasePath,
    *,
    choose: Annotated[
        str, typer.Option(metavar="NAME=VALUE", help="Choose otherwise than usual.")
    ] = "",
    usual: Annotated[str, typer.Option(metavar="NAME", help="Go back to the usual.")] = "",
    why: Annotated[str, typer.Option(help="Why; it is printed in the report.")] = "",
    by: By = "",
    json: AsJson = False,
) -> int:
    """Say which rules and thresholds hold, where each comes from, and what others say.

    Without an option they are listed; those chosen for the case are marked. With one, the rule
    that is chosen is told alone.
    """
    from workbench.desk.case import Case
    from workbench.reasoning import grouped_choices

    with Case.open(case, author=by, read_only=not (choose or usual)) as opened:
        if choose or usual:
            chosen = _act(opened, choose, usual, why)
        groups = grouped_choices(opened.dossier)
    found = [one for group in groups.values() for one in group]
    if choose or usual:
        groups = {"": tuple(one for one in found if one.name == chosen)}
    if json:
        say_json({"rules": [_member(one) for group in groups.values() for one in group]})
        return 0
    for title, group in groups.items():
        if title:
            say(f"{title}:")
        for one in group:
            _say(one)
    say(f"{count(len(found), 'rule')}, {sum(one.departs for one in found)} chosen otherwise (*).")
    return 0


def _act(case: "Case", choose: str, usual: str, why: str) -> str:
    """Choose, or go back to the usual; return the name of the rule."""
    from workbench.desk import choosing

    if choose and usual:
        raise KnownError("give --choose or --usual, not both")
    name, _, text = choose.partition("=") if choose else (usual, "", "")
    one = choosing.named(case.dossier, name.strip())
    if choose:
        case.do(choosing.choose(case.dossier, one, text, why))
    else:
        case.do(choosing.choose_usual(case.dossier, one, why))
    return one.name


def _say(one: "Choice") -> None:
    from workbench.trade.showing import Showing

    showing = Showing()
    mark = "*" if one.departs else " "
    usual = f"; usual {one.words(one.default, showing)}" if one.departs else ""
    say(f"{mark} {one.name}: {one.asks} {one.words(one.value, showing)}{usual} [{one.basis}]")
    if one.others:
        say(f"      others say {one.others_in_words}")


def _member(one: "Choice") -> dict[str, object]:
    return {
        "name": one.name,
        "asks": one.asks,
        "value": one.value,
        "usual": one.default,
        "unit": one.unit,
        "source": str(one.basis),
        "others": [{"value": other.value, "source": str(other.basis)} for other in one.others],
    }
