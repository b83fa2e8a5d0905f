"""How much: areas by outline, the share that fails, and the quantity to repair."""

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.analysis.comparison.proportions import (
    Proportion,
    exact_share,
    exact_share_of_pieces,
)
from workbench.records import Area, Dossier, Source, SurveyEntry
from workbench.records.codes import FAILURE_FORMS
from workbench.trade.units import UnitError, in_unit


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaExtent:
    """How much of one area fails.

    Attributes:
        area: The area.
        size_m2: Its size; None where it has neither size nor outline, or is counted in pieces.
        size_from: "size" or "outline"; empty where there is none.
        deducted_m2: Size of the areas that lie within it and are told apart.
        pieces: Its number of pieces where it is counted so.
        visible: Share of it on which failure was seen; None where nobody said.
        sounded: Share of it found hollow by sounding, visible loss included; None likewise.
        sampled: Share failing of what was looked at, with its interval; None where none was.
        remarks: What a reader must know, as sentences.
        sources: The records behind it.
    """

    area: Area
    size_m2: float | None
    size_from: str
    deducted_m2: float
    pieces: int | None
    visible: float | None
    sounded: float | None
    sampled: Proportion | None
    remarks: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def own_m2(self) -> float | None:
        """Its size without the areas within it, so that nothing counts twice."""
        return None if self.size_m2 is None else max(0.0, self.size_m2 - self.deducted_m2)

    @property
    def share(self) -> float | None:
        """The larger of the seen and the sounded share: hidden loss counts."""
        return max((one for one in (self.visible, self.sounded) if one is not None), default=None)

    @property
    def failing_m2(self) -> float | None:
        """Size of what fails; None where share or size is not known."""
        if self.share is None or self.own_m2 is None:
            return None
        return self.share * self.own_m2


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """How much fails in a case, area by area.

    Attributes:
        areas: Every area that is not a mere part of another's count.
        failing_m2: What fails, summed over the areas where it is known.
        known_m2: Size of the areas where it is known.
        not_known: Refs of areas of which share or size is not known.
    """

    areas: tuple[AreaExtent, ...]
    failing_m2: float
    known_m2: float
    not_known: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RepairQuantity:
    """What to allow for a repair.

    Attributes:
        failing_m2: What fails.
        edges_m2: What is removed around it to reach sound edges.
        margin_m2: What is added for what was not seen.
        whole_m2: The sum, no more than the areas it lies in.
    """

    failing_m2: float
    edges_m2: float
    margin_m2: float
    whole_m2: float


_LOSS = frozenset({*FAILURE_FORMS, "hollow"})
_SOUNDED = "hollow"


def extent_of(dossier: Dossier, confidence: float = 0.95) -> Extent:
    """Return how much of each area fails, seen and sounded, and how firmly that is known."""
    found = tuple(_area_extent(dossier, area, confidence) for area in dossier.all(Area))
    known = [one for one in found if one.failing_m2 is not None]
    return Extent(
        areas=found,
        failing_m2=sum(one.failing_m2 or 0.0 for one in known),
        known_m2=sum(one.own_m2 or 0.0 for one in known),
        not_known=tuple(one.area.ref for one in found if one.failing_m2 is None),
    )


def repair_quantity(extent: Extent, *, edges: float = 0.1, margin: float = 0.1) -> RepairQuantity:
    """Return what to allow for a repair.

    Args:
        extent: How much fails.
        edges: Share of the failing size to remove around it, to sound edges; a judgement.
        margin: Share to add for what was not seen; a judgement.
    """
    failing = extent.failing_m2
    wanted = (failing * edges, failing * margin)
    whole = min(failing + sum(wanted), max(extent.known_m2, failing))
    return RepairQuantity(
        failing_m2=failing, edges_m2=wanted[0], margin_m2=wanted[1], whole_m2=whole
    )


def _area_extent(dossier: Dossier, area: Area, confidence: float) -> AreaExtent:
    size_m2, size_from, remarks = _size(area)
    seen = [one for one in _surveyed(dossier, area) if one.form in _LOSS]
    sampled, sampled_from = _sampled(dossier, area, seen, confidence)
    return AreaExtent(
        area=area,
        size_m2=size_m2,
        size_from=size_from,
        deducted_m2=sum(
            _size(one)[0] or 0.0 for one in dossier.all(Area) if one.within == area.ref
        ),
        pieces=_pieces(area),
        visible=_largest(one for one in seen if one.form != _SOUNDED),
        sounded=_largest(one for one in seen if one.form == _SOUNDED),
        sampled=sampled,
        remarks=(*remarks, *sampled_from),
        sources=(area.source, *(one.source for one in seen)),
    )


def _size(area: Area) -> tuple[float | None, str, tuple[str, ...]]:
    """Return the size of an area in m², where it comes from, and whether the two sources differ."""
    outline_m2 = area.outline.area_m2 if area.outline else None
    stated_m2 = None
    if area.size and area.size.unit != "pieces":
        try:
            stated_m2 = in_unit(area.size, "m2", "m2")
        except UnitError as wrong:
            return outline_m2, "outline" if outline_m2 else "", (str(wrong),)
    if stated_m2 is None:
        return outline_m2, "outline" if outline_m2 else "", ()
    if outline_m2 and abs(outline_m2 - stated_m2) > _SIZES_AGREE * stated_m2:
        words = f"Size and outline differ: {stated_m2:.4g} m² stated, {outline_m2:.4g} m² drawn."
        return stated_m2, "size", (words,)
    return stated_m2, "size", ()


_SIZES_AGREE = 0.05


def _pieces(area: Area) -> int | None:
    return int(area.size.value) if area.size and area.size.unit == "pieces" else None


def _surveyed(dossier: Dossier, area: Area) -> list[SurveyEntry]:
    return [one for one in dossier.all(SurveyEntry) if dossier.area_at(one.at) is area]


def _largest(entries: Iterable[SurveyEntry]) -> float | None:
    """Return the largest share among entries: forms of failure may lie over each other."""
    return max((one.extent.value / 100 for one in entries if one.extent), default=None)


def _sampled(
    dossier: Dossier, area: Area, seen: list[SurveyEntry], confidence: float
) -> tuple[Proportion | None, tuple[str, ...]]:
    """Return the share failing of what was looked at, exact for the pieces there are."""
    counted = [
        (one.count, one.looked_at)
        for one in seen
        if one.count is not None and one.looked_at and dossier.area(one.at) is area
    ]
    if not counted:
        return None, ()
    count, of = max(counted, key=lambda pair: (pair[1], pair[0]))
    pieces = _pieces(area)
    if pieces and of <= pieces:
        return exact_share_of_pieces(count, of, pieces, confidence), ()
    words = "The interval holds if what was looked at was chosen at random."
    return exact_share(count, of, confidence), (words,)
