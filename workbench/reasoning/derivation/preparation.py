"""How the substrate was prepared, and how long it waited."""

from workbench.analysis.application.laid import worst
from workbench.reasoning.derivation.logged import each_area
from workbench.reasoning.derivation.said import (
    HOLDS_NOT,
    NO,
    OPEN,
    YES,
    Verdict,
    found,
    named,
    settle,
    silent,
    sources_of,
)
from workbench.reasoning.history import events_of, laid, log_quality, said_no
from workbench.reasoning.results import Finding
from workbench.reasoning.scene import Scene
from workbench.records import Area
from workbench.records.codes import Event, Quality, Substrate, YesNo


def prep_below_specified(scene: Scene) -> Finding:
    """Return whether the preparation recorded fell short of what was asked."""
    events = [e for area in scene.areas for e in events_of(scene, area, Event.PREPARED)]
    words = {"no": YES, "fail": YES, "negative": YES, "yes": NO, "pass": NO, "positive": NO}
    told = [one for one in events if one.value and one.value.word in words]
    if told:
        value = words[told[0].value.word if told[0].value else ""]
        met = "short of" if value == YES else "up to"
        return found(
            value, f"the preparation is recorded as {met} what was specified", sources_of(told),
            quality=worst(e.quality for e in told),
        )  # fmt: skip
    rows = [row for area in scene.areas if (one := laid(scene, area, 0)) for row in one.rows]
    limit = scene.limit("profile_rz", "profile_csp")
    unkeyed = [row for row in rows if row.abraded is YesNo.NO]
    if limit and unkeyed:
        words_ = "a profile was required and the log denies any abrading of the substrate"
        return found(YES, words_, (*sources_of(unkeyed), limit.source), quality=Quality.FAIR)
    return silent("the record does not compare the preparation with what was asked",
                  sources_of(rows) or scene.sources)  # fmt: skip


def galv_prep_absent(scene: Scene) -> Finding:
    """Return whether zinc was coated without profiling or conversion."""
    zinc = [
        area
        for area in scene.areas
        if (base := scene.coat(area, 0)) and "galvan" in base.material + base.product.lower()
    ]
    rows = [row for area in zinc if (one := laid(scene, area, 0)) for row in one.rows]
    if not rows:
        return silent("no preparation of zinc is logged", sources_of(zinc) or scene.sources)
    keyed = [row for row in rows if row.abraded is YesNo.YES or _treats(row.method + row.note)]
    if keyed:
        return found(NO, "the log records profiling or conversion of the zinc", sources_of(keyed))
    denied = [row for row in rows if row.abraded is YesNo.NO]
    if denied:
        words = "the log records neither profiling nor conversion of the zinc"
        return found(YES, words, sources_of(denied), quality=worst(log_quality(r) for r in denied))
    return silent("the log does not say how the zinc was prepared", sources_of(rows))


def _treats(words: str) -> bool:
    said = words.lower()
    denied = any(one in said for one in ("no sweep", "no conversion", "no etch", "not swept"))
    return not denied and any(
        one in said for one in ("sweep", "etch primer", "phosphat", "t-wash", "conversion")
    )


def wood_exposed_before_priming(scene: Scene) -> Finding:
    """Return whether bare wood stood in weather for more than two weeks before priming."""

    def judge(scene: Scene, area: Area) -> Verdict:
        base = scene.coat(area, 0)
        if base is None or base.material != Substrate.WOOD:
            return Verdict(area, OPEN, "", (area.source,))
        primed = laid(scene, area, 1)
        bare = [e for e in events_of(scene, area, Event.EXPOSED) if not said_no(e)]
        denied = [e for e in events_of(scene, area, Event.EXPOSED) if said_no(e)]
        if not bare and denied:
            words = f"{area.name}: not exposed before priming"
            return Verdict(area, HOLDS_NOT, words, sources_of(denied))
        if not bare or primed is None or primed.starts is None:
            return Verdict(area, OPEN, f"{area.name}: a date is missing", (area.source,))
        first = bare[0].start.start(scene.dossier.zone)
        days = (primed.starts[0] - first).total_seconds() / 86400
        if bare[0].value and bare[0].value.unit == "d":
            days = bare[0].value.value or 0.0
        words = f"{area.name}: bare for {days:.0f} d"
        limit = scene.settings.wood_bare_d
        return Verdict(area, days > limit, words, (bare[0].source, *primed.sources))

    return settle(
        scene,
        each_area(scene, judge),
        yes="bare wood stood in the weather for more than two weeks",
        no="the wood was primed within two weeks",
        nothing=f"bare exposure of wood is not dated for {scene.ground}",
        settled_by=scene.settings.said("wood_bare_d"),
    )


RULES = named(prep_below_specified, galv_prep_absent, wood_exposed_before_priming)
