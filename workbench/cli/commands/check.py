"""List what keeps a case from being finished."""

from workbench.cli.options import AsJson, CasePath
from workbench.cli.printing import count, say, say_json


def run(case: CasePath, *, json: AsJson = False) -> int:
    """List the open points of a case, those that weigh most first.

    Exit code 1 says that there are some.
    """
    from workbench.desk.case import Case
    from workbench.desk.reporting import every_open_point

    with Case.open(case, read_only=True) as held:
        points = every_open_point(held)
    if json:
        say_json({"open_points": points})
        return 1 if points else 0
    for point in points:
        mark = "!" if point.grave else " "
        about = f" ({point.about})" if point.sources else ""
        say(f"{mark} {point.chapter}: {point.words}{about}; {point.remedy}")
    grave = sum(point.grave for point in points)
    touching = f", {grave} of them touching the evidence itself (!)" if grave else ""
    say(f"{count(len(points), 'open point')}{touching}.")
    return 1 if points else 0
