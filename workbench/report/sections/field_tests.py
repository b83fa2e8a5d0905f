"""Field tests: pull-offs by plane, ratings, thickness, and what else was measured."""

from collections.abc import Sequence

from workbench.analysis.doubts.results import Doubt
from workbench.analysis.strength.results import Film, Group, StrengthResult
from workbench.records import Effect, PullOff, SitePlan, Source
from workbench.records.codes import Condition
from workbench.report.blocks import Block, Column, Heading, Row, Section, Table, headed
from workbench.report.draft import Draft, caution, fact, plain
from workbench.report.figures import plan_figures, strength_figures
from workbench.report.refs import in_short
from workbench.report.sections.comparisons import comparisons
from workbench.report.sections.conformity import conformity_blocks
from workbench.report.sections.film_tests import film_tests
from workbench.report.sections.places import how_chosen
from workbench.report.tabling import said_once
from workbench.report.tallies import grouped
from workbench.report.text import See, Text, Value, see_all, text
from workbench.report.wording import (
    coat_words,
    counted,
    listed,
    number_word,
    sentence,
    span,
)


def field_tests(draft: Draft) -> Section:
    """Return the section on field tests."""
    blocks: list[Block] = [
        *how_chosen(draft),
        *_pull_offs(draft),
        *_doubts(draft),
        *film_tests(draft),
        *comparisons(draft),
        *conformity_blocks(draft),
    ]
    if not blocks:
        blocks.append(plain("No field test is recorded."))
    else:
        blocks.append(_safety())
    return Section("field_tests", "Field tests", tuple(blocks), short=False)


def _safety() -> Block:
    return caution(
        "Repeating these tests needs care: hydraulic testers recoil when the coating lets go and "
        "hold oil under pressure; a fixture overhead must be tethered; grinding and coring of "
        "concrete sets free silica dust, and old coatings may hold lead or asbestos; solvents and "
        "blades injure. Local codes and the rules of the site decide; work in confined spaces, at "
        "height and on live plant is for those trained and permitted to do it."
    )


# -- pull-offs


def _pull_offs(draft: Draft) -> list[Block]:
    pulls = draft.dossier.all(PullOff)
    if not pulls:
        return []
    operators = list(dict.fromkeys(p.operator for p in pulls if p.operator))
    methods = grouped(pulls, lambda one: one.method.value)
    said = (
        f"all by {next(iter(methods))}"
        if len(methods) == 1
        else listed([f"{number_word(len(held))} by {name}" for name, held in methods.items()])
    )
    by = f" by {listed(operators)}" if operators else ""
    blocks: list[Block] = [
        Heading(2, "Pull-off tests", "pull-offs"),
        fact(
            "field tests: pull-offs",
            f"{counted(len(pulls), 'pull-off').capitalize()} "
            f"{'was' if len(pulls) == 1 else 'were'} made {span(p.date for p in pulls)}{by}, "
            f"{said}. Every single test, with its fixture, glue, gauge and where it broke, is in ",
            See("table pull-offs"),
            ".",
            of=pulls,
        ),
        plain(
            "A pull-off loads all layers in series and tells the strength of the weakest place "
            "only; of every other plane it says that it held at least so much. A break in the "
            "glue is a lower bound for all planes; a coating that came away before load could "
            "be applied is an upper bound. A mean over all readings hides both, and is not used "
            "here for any conclusion."
        ),
    ]
    result = draft.results.strength
    if result is None:
        return blocks
    return [*blocks, *_strength(draft, result), *_shown(draft), *_trials(draft, result)]


def _shown(draft: Draft) -> list[Block]:
    """Return the plan of the pull-offs, where the case has one, and what to look at in it."""
    placed = draft.dossier.all(SitePlan) or any(area.outline for area in draft.areas())
    drawn = plan_figures(draft) if placed else []
    if not drawn:
        return []
    seen = see_all([f"figure {figure.key}" for figure in drawn])
    return [
        plain(*seen, f" {'shows' if len(drawn) == 1 else 'show'} each pull-off at its place."),
        *drawn,
    ]


def _strength(draft: Draft, result: StrengthResult) -> list[Block]:
    tables = [_plane_table(draft, result, system) for system in _systems(result.groups)]
    drawn = strength_figures(draft)
    led = plain(
        *see_all([f"table {table.key}" for table in tables]),
        f" {'gives' if len(tables) == 1 else 'give'} the strength of every plane on the untouched "
        "film; ",
        *see_all([f"figure {figure.key}" for figure in drawn]),
        f" {'shows' if len(drawn) == 1 else 'show'} the readings behind it, and ",
        See("figure break shares"),
        " where each pull-off broke.",
    )
    blocks: list[Block] = [
        *([led] if tables else []),
        *tables,
        *_told_by_group(draft, result.groups),
        *drawn,
    ]
    if result.left_out:
        rows = tuple(
            Row((one.source.label, one.wrong, one.right), (one.source,)) for one in result.left_out
        )
        columns = headed("Ref", "Why it is left out", "What would let it in")
        blocks += [
            fact(
                "field tests: left out",
                f"{counted(len(rows), 'pull-off').capitalize()} "
                f"{'enters' if len(rows) == 1 else 'enter'} no estimate: see ",
                See("table left out"),
                ".",
            ),
            Table("left out", "Pull-offs that enter no estimate", columns, rows),
        ]
    return blocks


def _systems(groups: Sequence[Group]) -> list[str]:
    return list(dict.fromkeys(group.system for group in groups))


def _plane_table(draft: Draft, result: StrengthResult, system: str) -> Table:
    """Return planes from the top down against conditions: how often it broke, how strong."""
    groups = [g for g in result.groups if g.system == system]
    conditions = list(dict.fromkeys(g.condition for g in groups))
    planes = sorted({g.plane for g in groups}, key=lambda plane: -plane.height)
    rows = []
    for plane in planes:
        here = {g.condition: g for g in groups if g.plane == plane}
        name = next(iter(here.values())).plane_name
        cells = [_cell(draft, here.get(condition)) for condition in conditions]
        rows.append(Row((name, *cells)))
    heads = [f"{condition.value.capitalize()}" for condition in conditions]
    behind = "; ".join(
        f"{condition.value}: {in_short(_sources(groups, condition), most=12)}"
        for condition in conditions
    )
    level = f"{result.settings.confidence:.0%}".replace("%", " %")
    note = (
        "First line: tests that broke in that plane, wholly or in part, of those that tell of it. "
        f"Second line: median strength with its {level} interval, every other break counting as a "
        "bound; ≥ is a lower bound of the median for any Weibull law that spreads by 15 to 52 %, "
        "where nothing broke in the plane or too little of the face for an estimate. From "
        f"{behind}."
    )
    key = "strength" if len(_systems(result.groups)) == 1 else f"strength {system}"
    of = f", system {system}" if key != "strength" else ""
    caption = f"Strength by plane and condition, untouched film{of}, from the top down"
    return Table(key, caption, (Column("Plane"), *(Column(h) for h in heads)), tuple(rows), note)


def _sources(groups: Sequence[Group], condition: Condition) -> tuple[Source, ...]:
    held = (s for g in groups if g.condition is condition for s in g.sources)
    return tuple(dict.fromkeys(held))


def _cell(draft: Draft, group: Group | None) -> str | Text:
    if group is None:
        return "no test"
    broke = group.broke_here + group.at_most
    came = f", {group.at_most} before load" if group.at_most else ""
    name = f"strength {group.condition.value} {group.plane}: interval"
    shown = Value(name, draft.values.strength_words(group), group.sources)
    return text(f"{broke or 'none'} of {group.n} broke{came}\n", shown)


def _told_by_group(draft: Draft, groups: Sequence[Group]) -> list[Block]:
    blocks: list[Block] = []
    several = len(_systems(groups)) > 1
    for condition, system in dict.fromkeys((g.condition, g.system) for g in groups):
        held = [g for g in groups if g.condition is condition and g.system == system]
        broke = [g for g in held if g.broke_here + g.at_most]
        if not broke:
            continue
        worst = max(broke, key=lambda g: g.broke_here + g.at_most)
        came = (
            f"; in {number_word(worst.at_most)} of them the coating came away before load"
            if worst.at_most
            else ""
        )
        count = number_word(worst.broke_here + worst.at_most)
        blocks.append(
            fact(
                f"field tests: {condition.value}{f' {system}' if several else ''}",
                f"In {condition.value} areas{f' of system {system}' if several else ''} {count} of "
                f"{number_word(worst.n)} tests broke, wholly or in part, at {worst.plane_name}"
                f"{came}. The median strength of that plane there ",
                *draft.values.median_of(worst),
                ".",
            )
        )
    return blocks


def _trials(draft: Draft, result: StrengthResult) -> list[Block]:
    films: dict[tuple[Film, Condition], list[Group]] = {}
    for group in result.trials:
        films.setdefault((group.film, group.condition), []).append(group)
    if not films:
        return []
    rows = tuple(_trial_row(draft, film, groups) for (film, _), groups in films.items())
    columns = headed(
        "What was pulled",
        "Areas",
        "Tests",
        "Where it broke most",
        "Median there",
        numbers=("Tests",),
    )
    caption = "Strength on stripped coats and trial patches"
    note = (
        "Where it broke most: in how many, of those that tell of the plane. The median is "
        "estimated with its interval as for the film as found, and is not the middle reading."
    )
    return [
        fact(
            "field tests: trials",
            "Tests on stripped coats and on trial patches stand apart from "
            "those on the film as found: ",
            See("table trials"),
            ".",
        ),
        Table("trials", caption, columns, rows, note, traced=True),
    ]


def _trial_row(draft: Draft, film: Film, groups: Sequence[Group]) -> Row:
    most = max(groups, key=lambda g: (g.broke_here + g.at_most, g.plane.height))
    behind = tuple(dict.fromkeys(s for g in groups for s in g.sources))
    layers = draft.dossier.system(most.system)
    under = next((c for c in layers if film.on is not None and c.order == film.on), None)
    name = f"{coat_words(under)}, coats above stripped" if under else str(film)
    where = f"{most.plane_name}: {most.broke_here + most.at_most} of {most.n}"
    return Row(
        (name, most.condition.value, str(len(behind)), where, draft.values.strength_words(most)),
        behind,
    )


def _doubts(draft: Draft) -> list[Block]:
    doubts = draft.results.doubts
    if not doubts:
        return []
    alike = grouped_doubts(doubts)
    rows = tuple(_doubt_row(held) for held in alike.values())
    heads = ("Of", "Doubt", "Rule", "What the rule asks for", "Answer")
    columns, caption = headed(*heads), "Doubts about readings, and what becomes of them"
    note = (
        "A doubt that nobody has answered has changed no estimate in this report; a break in the "
        "glue counts as a lower bound in any case."
    )
    return [
        Heading(2, "Doubts about readings", "doubts"),
        fact(
            "field tests: doubts",
            f"{counted(len(doubts), 'doubt').capitalize()} that a careful reader would raise "
            f"{'is' if len(doubts) == 1 else 'are'} in ",
            See("table doubts"),
            f", those that are alike in one row; {_answered(doubts)}.",
        ),
        said_once(Table("doubts", caption, columns, rows, note)),
    ]


def _answered(doubts: Sequence[Doubt]) -> str:
    count = sum(1 for one in doubts if one.answer)
    if count == len(doubts):
        return "each has its answer beside it"
    return f"{number_word(count) if count else 'none'} of them has been answered so far"


def grouped_doubts(doubts: Sequence[Doubt]) -> dict[tuple[str, ...], list[Doubt]]:
    """Return doubts that say the same of several records together."""
    groups: dict[tuple[str, ...], list[Doubt]] = {}
    for one in doubts:
        key = (one.rule.value, one.words, one.effect.value, str(one.answer or ""))
        groups.setdefault(key, []).append(one)
    return groups


def _doubt_row(held: Sequence[Doubt]) -> Row:
    one = held[0]
    behind = tuple(doubt.source for doubt in held)
    asked = "that it be told" if one.effect is Effect.NONE else one.effect.value
    answer = (
        f"{one.answer.effect.value}: {one.answer.reason} ({one.answer.by})"
        if one.answer
        else ("open")
    )
    words = f"{sentence(one.rule.value)} {sentence(one.words)}"
    return Row((in_short(behind), words, str(one.basis), asked, answer), behind)
