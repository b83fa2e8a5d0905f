"""What a careful reader would doubt in the readings of a case, each doubt with its rule.

Doubts are values: they are shown beside the reading, and a person may answer one with a reason.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from workbench.analysis.doubts.films import doubts_of_films
from workbench.analysis.doubts.fixtures import doubts_of_fixtures
from workbench.analysis.doubts.ground import Ground
from workbench.analysis.doubts.laboratory import doubts_of_laboratory
from workbench.analysis.doubts.pull_offs import doubts_of_pull_offs
from workbench.analysis.doubts.results import SLIPS, Doubt, Rule
from workbench.analysis.doubts.sampling import doubts_of_sampling
from workbench.analysis.doubts.slips import doubts_of_slips
from workbench.analysis.doubts.surroundings import doubts_of_surroundings
from workbench.records import Dossier, DoubtAnswer, Effect, Source
from workbench.trade.settings import Settings, settings_of
from workbench.trade.showing import Showing

__all__ = ["SLIPS", "Doubt", "Rule", "doubts_of", "effects_of"]

_SEVERITY = {effect: at for at, effect in enumerate(Effect)}


def doubts_of(
    dossier: Dossier, settings: Settings | None = None, *, showing: Showing | None = None
) -> tuple[Doubt, ...]:
    """Return every doubt about the readings of a case, with what was answered to it.

    Args:
        dossier: The case.
        settings: Choices; those of the case where none are given.
        showing: Units of the numbers in the words; SI where none is given.
    """
    ground = Ground(dossier, settings or settings_of(dossier), showing or Showing())
    answers = {(one.about, one.rule): one for one in dossier.all(DoubtAnswer)}
    raised = (
        *doubts_of_pull_offs(ground),
        *doubts_of_fixtures(ground),
        *doubts_of_surroundings(ground),
        *doubts_of_films(ground),
        *doubts_of_laboratory(ground),
        *doubts_of_slips(ground),
        *doubts_of_sampling(ground),
    )
    return tuple(
        replace(one, answer=answers.get((str(one.source), str(one.rule)))) for one in raised
    )


def effects_of(doubts: Iterable[Doubt]) -> Mapping[Source, Effect]:
    """Return the severest effect that holds for each record in doubt; answers are counted."""
    effects: dict[Source, Effect] = {}
    for doubt in doubts:
        held = effects.get(doubt.source, Effect.NONE)
        effects[doubt.source] = max(held, doubt.holds, key=lambda effect: _SEVERITY[effect])
    return effects
