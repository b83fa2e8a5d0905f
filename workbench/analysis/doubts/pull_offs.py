"""Doubts about how one pull-off was read."""

from collections.abc import Iterable

from workbench.analysis.doubts.ground import Ground
from workbench.analysis.doubts.results import Doubt, Rule
from workbench.analysis.measured import measured
from workbench.records import Effect, Instrument, PullOff
from workbench.records.codes import YesNo
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.showing import SECONDS, STRESS_RATE
from workbench.trade.units import convert

_RATE_TOLERANCE = 0.01


def doubts_of_pull_offs(ground: Ground) -> Iterable[Doubt]:
    """Return the doubts about how each pull-off was read."""
    for pull in ground.pulls:
        for rule in (_calibration, _rate, _duration, _glue, _read):
            yield from rule(ground, pull)


def _calibration(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    instrument = ground.dossier.find(Instrument, pull.instrument) if pull.instrument else None
    if instrument is None or pull.date is None:
        return
    first, last = ground.span(pull.date)
    zone = ground.dossier.zone
    basis = Basis("ISO/IEC 17025, 6.4", Status.MEMORY)
    said = f"{instrument.ref} on {pull.date}"
    if instrument.due and first >= instrument.due.end(zone):
        words = f"{said}: calibration was due {instrument.due}"
    elif instrument.calibrated and last <= instrument.calibrated.start(zone):
        words = f"{said}: calibrated only {instrument.calibrated}"
    else:
        return
    yield Doubt.about(pull, Rule.CALIBRATION, words, basis, Effect.SET_ASIDE)


def _rate(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    asked = ground.condition(pull.method, "rate")
    rate = ground.stresses[pull.id].rate_mpa_s
    if asked is None or rate is None or pull.came_away is YesNo.YES:
        return
    show = ground.showing
    least, most = (
        convert(bound, asked.unit, "MPa/s") if bound is not None else None
        for bound in (asked.least, asked.most)
    )
    if most is not None and rate > most * (1 + _RATE_TOLERANCE):
        rule, bound, word = Rule.TOO_FAST, most, "at most"
    elif least is not None and rate < least * (1 - _RATE_TOLERANCE):
        rule, bound, word = Rule.TOO_SLOW, least, "at least"
    else:
        return
    said = show.value(STRESS_RATE, rate, apart_from=bound)
    limit = show.value(STRESS_RATE, bound, apart_from=rate)
    yield Doubt.about(pull, rule, f"{said}; {pull.method} asks for {word} {limit}", asked.basis)


def _duration(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    asked = ground.condition(pull.method, "duration")
    seconds = measured(pull.seconds, "s", "s")
    if asked and asked.most is not None and seconds is not None and seconds > asked.most:
        said = ground.showing.value(SECONDS, seconds)
        words = f"{said} to the break; {pull.method} asks for {asked.most:g} s at most"
        yield Doubt.about(pull, Rule.TOO_LONG, words, asked.basis)


def _glue(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    limit = ground.settings.glue_limit_percent
    if pull.breaks and pull.breaks.glue > limit:
        words = f"{pull.breaks.glue:g} % broke in the glue; over {limit:g} % it says “at least”"
        basis = Basis("procedure of a tester; ASTM D4541 and D7234 differ", Status.READ)
        yield Doubt.about(pull, Rule.GLUE_SHARE, words, basis, Effect.LOWER_BOUND)


def _read(ground: Ground, pull: PullOff) -> Iterable[Doubt]:
    stress = ground.stresses[pull.id]
    if stress.mpa is None:
        yield Doubt.about(pull, Rule.NO_STRESS, stress.why_not, PRACTICE, Effect.SET_ASIDE)
    elif pull.breaks is None:
        words = "where it broke is not recorded: every plane held at least this"
        yield Doubt.about(pull, Rule.NO_BREAK, words, PRACTICE, Effect.LOWER_BOUND)
    elif not pull.breaks.complete:
        words = f"{pull.breaks}: what is not given counts for no plane"
        yield Doubt.about(pull, Rule.NO_BREAK, words, PRACTICE)
