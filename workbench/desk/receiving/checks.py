"""The two stages of a receipt: what is looked at outside, and at each item inside."""

from dataclasses import dataclass
from enum import StrEnum

from workbench.records import Quantity
from workbench.records.codes import DiscrepancyKind, SealCondition, YesNo


class DeliveryMode(StrEnum):
    """Who brought it."""

    PERSON = "by hand"
    CARRIER = "by carrier"


class OuterCondition(StrEnum):
    """The outer package as found, before it is opened."""

    SOUND = "sound"
    DAMAGED = "damaged"
    WET = "wet"
    OPEN = "open"


class Papers(StrEnum):
    """The papers that came with it."""

    COMPLETE = "complete"
    INCOMPLETE = "incomplete"
    MISSING = "missing"


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsideCheck:
    """What is looked at before anything is opened; None is not yet looked at.

    Attributes:
        mode: By hand or by carrier.
        by: Name of the person, or of the carrier.
        number: The carrier's consignment number.
        condition: The outer package.
        papers: The custody form and its like.
        seal: Number of the outer seal; empty where there is none.
        seal_condition: That seal as found.
        containers: How many containers there are.
        photo: Name of the photograph of the outside.
    """

    mode: DeliveryMode | None = None
    by: str = ""
    number: str = ""
    condition: OuterCondition | None = None
    papers: Papers | None = None
    seal: str = ""
    seal_condition: SealCondition | None = None
    containers: int | None = None
    photo: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemCheck:
    """What is looked at on one item; None is not yet looked at.

    Attributes:
        sample: Its ref.
        label_legible: Whether the label can be read.
        label_agrees: Whether label and papers agree.
        container_whole: Whether the container is undamaged.
        leaking: Whether it leaks.
        seal: Number on its seal; empty where there is none.
        seal_condition: The seal as found.
        condition: The item in words.
        amount: What was weighed or counted.
        hazards: Hazards in words.
        place: Where it is stored.
        photo: Name of the photograph.
    """

    sample: str
    label_legible: YesNo | None = None
    label_agrees: YesNo | None = None
    container_whole: YesNo | None = None
    leaking: YesNo | None = None
    seal: str = ""
    seal_condition: SealCondition | None = None
    condition: str = ""
    amount: Quantity | None = None
    hazards: str = ""
    place: str = ""
    photo: str = ""


def lacking_outside(check: OutsideCheck) -> tuple[str, ...]:
    """Return what must still be said before anything is opened."""
    wanted = [
        ("how it came", check.mode),
        ("who brought it", check.by),
        ("state of the package", check.condition),
        ("papers", check.papers),
        ("state of the outer seal", check.seal_condition),
        ("number of containers", check.containers),
    ]
    if check.mode is DeliveryMode.CARRIER:
        wanted.append(("consignment number", check.number))
    return tuple(name for name, said in wanted if said in (None, ""))


def lacking_inside(check: ItemCheck) -> tuple[str, ...]:
    """Return what must still be said of an item before it can be stored."""
    wanted = (
        ("label legible", check.label_legible),
        ("label agrees with papers", check.label_agrees),
        ("container whole", check.container_whole),
        ("leaking", check.leaking),
        ("state of the seal", check.seal_condition),
        ("condition", check.condition),
        ("place of storage", check.place),
    )
    return tuple(name for name, said in wanted if said in (None, ""))


def outside_doubts(check: OutsideCheck) -> tuple[tuple[DiscrepancyKind, str], ...]:
    """Return what outside does not agree, each with its words."""
    found = []
    if check.papers is Papers.MISSING:
        found.append((DiscrepancyKind.PAPERS_MISSING, "no papers came with it"))
    if check.papers is Papers.INCOMPLETE:
        found.append((DiscrepancyKind.PAPERS_INCOMPLETE, "the papers are incomplete"))
    if check.condition not in {None, OuterCondition.SOUND}:
        found.append((DiscrepancyKind.DAMAGED, f"the outer package is {check.condition}"))
    found += _seal_doubts("the outer seal", check.seal_condition)
    return tuple(found)


def item_doubts(check: ItemCheck, sent_under: str) -> tuple[tuple[DiscrepancyKind, str], ...]:
    """Return what does not agree about an item, each with its words.

    Args:
        check: The item as found.
        sent_under: Number of the seal it was sent under; empty where none is known.
    """
    found = []
    if check.label_legible is YesNo.NO:
        found.append((DiscrepancyKind.LABEL_DIFFERS, "the label cannot be read"))
    if check.label_agrees is YesNo.NO:
        found.append((DiscrepancyKind.LABEL_DIFFERS, "label and papers do not agree"))
    if check.container_whole is YesNo.NO:
        found.append((DiscrepancyKind.DAMAGED, "the container is damaged"))
    if check.leaking is YesNo.YES:
        found.append((DiscrepancyKind.LEAKING, "it leaks"))
    found += _seal_doubts("the seal", check.seal_condition)
    differs = check.seal and sent_under and check.seal != sent_under
    if differs and check.seal_condition is not SealCondition.NUMBER_DIFFERS:
        words = f"sent under seal {sent_under}, found under {check.seal}"
        found.append((DiscrepancyKind.SEAL_NUMBER_DIFFERS, words))
    if sent_under and not check.seal and check.seal_condition is not SealCondition.ABSENT:
        words = f"sent under seal {sent_under}, no number found"
        found.append((DiscrepancyKind.SEAL_ABSENT, words))
    return tuple(found)


def _seal_doubts(what: str, condition: SealCondition | None) -> list[tuple[DiscrepancyKind, str]]:
    kinds = {
        SealCondition.BROKEN: DiscrepancyKind.SEAL_BROKEN,
        SealCondition.ABSENT: DiscrepancyKind.SEAL_ABSENT,
        SealCondition.NUMBER_DIFFERS: DiscrepancyKind.SEAL_NUMBER_DIFFERS,
    }
    if condition not in kinds:
        return []
    words = {SealCondition.NUMBER_DIFFERS: "has another number than the papers say"}
    return [(kinds[condition], f"{what} {words.get(condition, f'is {condition}')}")]
