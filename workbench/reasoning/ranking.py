"""Candidates in order: what stands first, root causes before the processes they lead to."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from workbench.reasoning.evidence import contrasts, direct_evidence, strong_findings
from workbench.reasoning.grading import Proposal, decided, propose
from workbench.reasoning.knowledge import BREAK_PLANE, Cause, Knowledge
from workbench.reasoning.marks import outdone
from workbench.reasoning.results import Alias, Bearing, Candidate, Cell, Finding, Rival
from workbench.reasoning.rivals import rivals_of
from workbench.reasoning.scene import Scene
from workbench.reasoning.weighed import Weighed
from workbench.reasoning.weighing import Scales, weigh
from workbench.records import CausalRole, CauseDecision, Grade
from workbench.records.codes import Substrate


@dataclass(frozen=True)
class Standing:
    """All candidates that apply, in order, with what leads."""

    field: Mapping[str, Weighed]
    order: tuple[str, ...]
    rivals: Mapping[str, tuple[Rival, ...]]
    proposals: Mapping[str, Proposal]
    leaders: tuple[str, ...]
    substrates: tuple[str, ...] = ()

    @property
    def inconclusive(self) -> bool:
        """Whether nothing leads, or several do that the evidence cannot part."""
        return len(self.leaders) != 1


def substrates_of(scene: Scene) -> tuple[str, ...]:
    """Return the substrates of the failing areas."""
    layers = (coat for system in scene.failing.systems for coat in system)
    return tuple(dict.fromkeys(coat.material for coat in layers if coat.order == 0))


def applying(scene: Scene, knowledge: Knowledge) -> tuple[Cause, ...]:
    """Return the causes that can act on the substrate and system of the failing areas."""
    layers = [coat for system in scene.failing.systems for coat in system]
    materials = {coat.material for coat in layers}
    substrates = {coat.material for coat in layers if coat.order == 0}
    if any(coat.order > 1 for coat in layers) or Substrate.EXISTING_COATING in substrates:
        substrates.add(Substrate.EXISTING_COATING)
    return tuple(
        one
        for one in knowledge.causes
        if (not substrates or "any" in one.substrates or substrates & set(one.substrates))
        and (not materials or not one.only_with or materials & set(one.only_with))
    )


def stand(
    causes: Sequence[Cause], findings: Mapping[str, Finding], scales: Scales,
    aliases: Sequence[Alias] = (), substrates: Sequence[str] = (),
) -> Standing:  # fmt: skip
    """Return where the causes stand on some findings."""
    field = {one.id: Weighed(one, weigh(one, findings, scales)) for one in causes}
    return replace(standing(field, scales, aliases), substrates=tuple(substrates))


def standing(
    field: Mapping[str, Weighed], scales: Scales, aliases: Sequence[Alias] = ()
) -> Standing:
    """Return where weighed causes stand."""
    rivals = {name: rivals_of(one, field, scales) for name, one in field.items()}
    tangled = _tangled(field, aliases, scales)
    proposals = {
        name: propose(one, rivals[name], scales, aliased=name in tangled)
        for name, one in field.items()
    }
    order = _order(field, proposals, scales)
    leaders = _leaders(field, order, proposals, scales, aliases)
    return Standing(field, order, rivals, proposals, leaders)


def _order(
    field: Mapping[str, Weighed], proposals: Mapping[str, Proposal], scales: Scales
) -> tuple[str, ...]:
    """Return the causes by what stands; a process follows the best supported cause behind it."""
    order = sorted(field, key=lambda name: _place(field[name], proposals[name]))
    for name in tuple(order):
        one = field[name]
        if not one.cause.process or one.barred:
            continue
        behind = [
            up
            for up in one.cause.upstream
            if up in field and _is_root(field[up], proposals[up], one, scales)
        ]
        if behind:
            first = max(behind, key=lambda up: field[up].points)
            if order.index(first) > order.index(name):
                order.remove(first)
                order.insert(order.index(name), first)
    return tuple(order)


def _place(one: Weighed, proposal: Proposal) -> tuple[bool, bool, float, str]:
    """Return the sort key of a cause: what stands first, what is excluded last, then by points."""
    return (one.barred, not _stands(one, proposal), -one.points, one.cause.id)


def _is_root(one: Weighed, proposal: Proposal, process: Weighed, scales: Scales) -> bool:
    """Return whether a cause behind a process is firm enough to be named before it."""
    if not _stands(one, proposal) or not direct_evidence(one, scales):
        return False
    near = one.points > process.points - scales.settings.tie
    firm = proposal.grade.firmness >= Grade.PROBABLE.firmness
    return near or (firm and one.points >= process.points / 2)


def _stands(one: Weighed, proposal: Proposal) -> bool:
    return not one.barred and proposal.grade.firmness >= Grade.POSSIBLE.firmness


def _leaders(
    field: Mapping[str, Weighed], order: Sequence[str], proposals: Mapping[str, Proposal],
    scales: Scales, aliases: Sequence[Alias],
) -> tuple[str, ...]:  # fmt: skip
    """Return the first candidate and those that the evidence cannot part from it."""
    standing_ = [name for name in order if _stands(field[name], proposals[name])]
    if not standing_:
        return ()
    first = standing_[0]
    if proposals[first].grade is Grade.ESTABLISHED:
        return (first,)
    bound = _bound_with(first, field, aliases, scales)
    leaders = [first]
    for name in standing_[1:]:
        lead = field[first].points - field[name].points
        tied = lead < scales.settings.tie or (name in bound and lead < field[name].points)
        if tied and not any(_settles(field[o], field[name], scales) for o in leaders):
            leaders.append(name)
    return tuple(leaders)


def _settles(one: Weighed, other: Weighed, scales: Scales) -> bool:
    """Return whether a leading cause stands for another too: they go together, or it says more."""
    return _goes_with(one.cause, other.cause) or outdone(other, one, scales)


def _bound_with(
    first: str, field: Mapping[str, Weighed], aliases: Sequence[Alias], scales: Scales
) -> frozenset[str]:
    """Return the causes that the records cannot part from the first, since circumstances alias.

    They rest on a circumstance that goes together with one that the first rests on, and they
    account for the plane as well. Direct evidence beside the circumstances parts them.
    """
    keys = {key for alias in aliases for key in alias.keys}
    if _seen_directly(field[first], keys, scales):
        return frozenset()
    if not any(_would_rest_on(field[first], key) for key in keys):
        return frozenset()
    return frozenset(
        name
        for name, one in field.items()
        if any(_would_rest_on(one, key) for key in keys) and _rests_on(one, BREAK_PLANE)
    )


def _seen_directly(one: Weighed, keys: Collection[str], scales: Scales) -> bool:
    """Return whether the direct evidence holds without some circumstances."""
    left = tuple(replace(c, counted=False) if c.key in keys else c for c in one.cells)
    return bool(direct_evidence(Weighed(one.cause, left), scales))


def _would_rest_on(one: Weighed, key: str) -> bool:
    """Return whether a cause predicts that a circumstance holds."""
    return not one.barred and any(c.key == key and "yes" in c.predicted for c in one.cells)


def _goes_with(first: Cause, other: Cause) -> bool:
    """Return whether two causes stand together: a process and what leads to it, or one event."""
    process = (other.process and first.id in other.upstream) or (
        first.process and other.id in first.upstream
    )
    return process or other.id in first.companions or first.id in other.companions


def _tangled(
    field: Mapping[str, Weighed], aliases: Sequence[Alias], scales: Scales
) -> frozenset[str]:
    """Return the causes whose circumstance goes together with that of another that stands.

    One that is seen directly beside its circumstances is not among them.
    """
    held = set()
    for alias in aliases:
        resting = {
            key: {name for name, one in field.items() if _rests_on(one, key)} for key in alias.keys
        }
        first, second = (resting[key] for key in alias.keys)
        if first - second and second - first:
            held |= {
                name for name in first ^ second
                if not _seen_directly(field[name], alias.keys, scales)
            }  # fmt: skip
    return frozenset(name for name in held if strong_findings(field[name]))


def _rests_on(one: Weighed, key: str) -> bool:
    return not one.barred and any(c.key == key and c.bearing is Bearing.SUPPORTS for c in one.cells)


def candidates(
    held: Standing, scales: Scales, decisions: Mapping[str, CauseDecision]
) -> tuple[Candidate, ...]:
    """Return the candidates as they are shown, with the investigator's decisions.

    Those that share the first rank stand before the rest, which keep their order.
    """
    first = [name for name in held.order if name in held.leaders or _joint(held, name)]
    rest = [name for name in held.order if name not in first]
    ranks = {**dict.fromkeys(first, 1), **{n: at for at, n in enumerate(rest, len(first) + 1)}}
    return tuple(
        replace(
            _candidate(held, name, rank, scales, decisions.get(name)),
            joint=rank == 1 and len(first) > 1, behind=_behind(held, name),
        )
        for name, rank in ranks.items()
    )  # fmt: skip


def _behind(held: Standing, name: str) -> tuple[str, ...]:
    """Return the leading processes, by title, that a cause which does not lead may lie behind."""
    if name in held.leaders or not _stands(held.field[name], held.proposals[name]):
        return ()
    leading = (held.field[one].cause for one in held.leaders)
    return tuple(one.title for one in leading if one.process and name in one.upstream)


def _joint(held: Standing, name: str) -> bool:
    """Return whether a candidate is the other face of what leads, and firm itself."""
    if len(held.leaders) != 1:
        return False
    one, leader = held.field[name].cause, held.field[held.leaders[0]].cause
    firm = held.proposals[name].grade.firmness >= Grade.PROBABLE.firmness
    return firm and (leader.id in one.companions or name in leader.companions)


def _candidate(
    held: Standing, name: str, rank: int, scales: Scales, decision: CauseDecision | None
) -> Candidate:
    one, proposal = held.field[name], held.proposals[name]
    opposing = [c for c in one.cells if c.bearing in _OPPOSING]
    candidate = Candidate(
        cause=name,
        title=one.cause.title,
        rank=rank,
        grade=proposal.grade,
        proposed=proposal.grade,
        role=_role(held, name),
        is_process=one.cause.process,
        upstream=one.cause.upstream,
        points=one.points,
        supporting=one.supporting,
        opposing=tuple(sorted(opposing, key=lambda c: (_OPPOSING.index(c.bearing), c.points))),
        unread=_unread(one),
        direct=direct_evidence(one, scales),
        contrast=contrasts(one, scales),
        rivals=held.rivals[name],
        because=proposal.because,
    )
    return decided(candidate, decision)


_OPPOSING = (Bearing.EXCLUDES, Bearing.WOULD_EXCLUDE, Bearing.CONTRADICTS)


def _unread(one: Weighed) -> tuple[Cell, ...]:
    held = [c for c in one.cells if c.bearing is Bearing.NOT_READ]
    return tuple(sorted(held, key=lambda c: not c.decisive))


def _role(held: Standing, name: str) -> CausalRole | None:
    """Return the part that a candidate plays beside the leader, where it stands."""
    one, proposal = held.field[name], held.proposals[name]
    if not held.leaders or not _stands(one, proposal):
        return None
    if name in held.leaders:
        return CausalRole.MAIN if len(held.leaders) == 1 else None
    leader = held.field[held.leaders[0]].cause
    if one.cause.process and leader.id in one.cause.upstream:
        return CausalRole.CONSEQUENCE
    counted = [c for c in one.supporting if c.counted]
    if counted and all(c.same_in_sound_areas for c in counted):
        return CausalRole.BACKGROUND
    kin = name in leader.combined_with or leader.id in one.cause.combined_with
    firm = proposal.grade.firmness >= Grade.PROBABLE.firmness
    return CausalRole.CONTRIBUTORY if kin and firm else None
