"""Thousands of random custody stories beside a model of who may do what.

The model is written apart from the rules: it knows the holder, the seals, and whether a laboratory
has the sample, and offers only steps that a careful person could take. A story from the model must
pass; one step taken out of it, or one false step put in, must be told.
"""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from random import Random

from builders import make
from hypothesis import given, settings
from hypothesis import strategies as st

from workbench.custody.rules import breaches
from workbench.custody.story import story_of
from workbench.records import CustodyEntry, DestructiveStep, Dossier, Party, Record, Sample
from workbench.records.codes import CustodyEvent

START = datetime(2026, 1, 1, 8, 0, tzinfo=UTC)
PEOPLE = ("Ann", "Bea", "Cid")
LABORATORIES = ("Lab One", "Lab Two")
CARRIERS = ("Van", "Rail")
BASIS: tuple[Record, ...] = (
    make(Sample, ref="S-1"),
    *(make(Party, name=name, role="laboratory") for name in LABORATORIES),
    *(make(Party, name=name, role="carrier") for name in CARRIERS),
    make(DestructiveStep, sample="S-1", step="any", override="agreed beforehand"),
)


@dataclass(slots=True)
class Model:
    """What a careful person knows of one sample."""

    holder: str = ""
    in_transit: bool = False
    in_laboratory: bool = False
    seals: set[str] = field(default_factory=set)
    ended: bool = False
    entries: list[CustodyEntry] = field(default_factory=list)

    def say(self, event: CustodyEvent, giver: str, receiver: str, seal: str = "") -> None:
        at = START + timedelta(hours=len(self.entries))
        self.entries.append(
            make(
                CustodyEntry, sample="S-1", when=f"{at:%Y-%m-%d %H:%M}+00:00", event=event.value,
                giver=giver, receiver=receiver, seal=seal,
            )
        )  # fmt: skip
        self.holder = receiver
        if receiver in LABORATORIES:
            self.in_laboratory = True

    def choices(self) -> list[str]:
        if not self.entries:
            return ["collect"]
        if self.ended:
            return []
        if self.in_transit:
            return ["receive"]
        steps = ["hand over", "dispatch", "store", "seal"]
        if self.seals:
            steps.append("open")
        elif self.in_laboratory:
            steps += ["test", "split", "use up"]
        return [*steps, "dispose"]

    def take(self, step: str, draw: st.DrawFn) -> None:
        someone = st.sampled_from(
            [name for name in (*PEOPLE, *LABORATORIES) if name != self.holder]
        )
        holder = self.holder
        if step == "collect":
            self.say(CustodyEvent.COLLECTED, "", draw(st.sampled_from(PEOPLE)))
        elif step == "hand over":
            self.say(CustodyEvent.HANDED_OVER, holder, draw(someone))
        elif step == "dispatch":
            self.say(CustodyEvent.DISPATCHED, holder, draw(st.sampled_from(CARRIERS)))
            self.in_transit, self.in_laboratory = True, False
        elif step == "receive":
            seal = min(self.seals) if self.seals else ""
            self.say(CustodyEvent.RECEIVED, holder, draw(someone), seal)
            self.in_transit = False
        elif step == "seal":
            seal = str(100 + len(self.entries))
            self.say(CustodyEvent.SEALED, holder, holder, seal)
            self.seals.add(seal)
        elif step == "open":
            seal = draw(st.sampled_from(sorted(self.seals)))
            self.say(CustodyEvent.OPENED, holder, holder, seal)
            self.seals.discard(seal)
        else:
            self._finish(step, holder)

    def _finish(self, step: str, holder: str) -> None:
        events = {
            "store": CustodyEvent.STORED,
            "test": CustodyEvent.TESTED,
            "split": CustodyEvent.SPLIT,
            "use up": CustodyEvent.USED_UP,
            "dispose": CustodyEvent.DISPOSED,
        }
        gone = step in {"use up", "dispose"}
        self.say(events[step], holder, "" if gone else holder)
        self.ended = gone


@st.composite
def stories(draw: st.DrawFn) -> Model:
    model = Model()
    for _ in range(draw(st.integers(2, 14))):
        steps = model.choices()
        if not steps:
            break
        model.take(draw(st.sampled_from(steps)), draw)
    return model


def grave(entries: list[CustodyEntry]) -> set[str]:
    """Return the rules broken a day after the last entry, when nothing is late on its way yet."""
    held = Dossier([*BASIS, *entries])
    last = max((one.when.start(held.zone) for one in entries), default=START)
    return {one.rule for one in breaches(held, now=last + timedelta(days=1)) if one.grave}


@settings(max_examples=1000)
@given(stories())
def test_no_story_of_a_careful_person_is_refused_and_somebody_always_holds_it(
    model: Model,
) -> None:
    assert grave(model.entries) == set()
    held = Dossier([*BASIS, *model.entries])
    story = story_of(held, held.all(Sample)[0])
    spans = story.spans()
    assert not any(span.gap for span in spans)
    for one, following in pairwise(spans):
        assert one.end == following.start, "one holder at a time, and never none"
    if not model.ended and story.now is not None:
        assert story.now.holder == model.holder
        assert story.now.seals == model.seals
        assert spans[-1].end is None


@settings(max_examples=600)
@given(stories(), st.data())
def test_a_hand_over_left_out_is_told(model: Model, data: st.DataObject) -> None:
    moves = [
        n
        for n, entry in enumerate(model.entries[:-1])
        if entry.giver and entry.receiver and entry.giver != entry.receiver
        and model.entries[n + 1].giver
    ]  # fmt: skip
    if not moves:
        return
    left_out = data.draw(st.sampled_from(moves))
    rest = [entry for n, entry in enumerate(model.entries) if n != left_out]
    assert "the giver holds it" in grave(rest)


@settings(max_examples=400)
@given(stories())
def test_work_on_a_sealed_sample_is_told(model: Model) -> None:
    if model.ended or not model.seals:
        return
    model.say(CustodyEvent.TESTED, model.holder, model.holder)
    assert "a seal is broken before work" in grave(model.entries)


@settings(max_examples=400)
@given(stories())
def test_anything_after_the_end_is_told(model: Model) -> None:
    if not model.ended:
        return
    model.say(CustodyEvent.STORED, "Ann", "Ann")
    assert "nothing follows the end" in grave(model.entries)


@settings(max_examples=400)
@given(stories(), st.sampled_from(PEOPLE + LABORATORIES))
def test_somebody_who_does_not_hold_it_cannot_give_it(model: Model, stranger: str) -> None:
    if model.ended or stranger == model.holder:
        return
    model.say(CustodyEvent.HANDED_OVER, stranger, "Zoe")
    assert "the giver holds it" in grave(model.entries)


@settings(max_examples=300)
@given(stories(), st.randoms(use_true_random=False))
def test_the_order_in_which_entries_are_recorded_does_not_matter(
    model: Model, random: Random
) -> None:
    shuffled = list(model.entries)
    random.shuffle(shuffled)
    assert grave(shuffled) == set()
