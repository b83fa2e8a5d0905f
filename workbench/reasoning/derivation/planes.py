"""Where the system parts: opened blisters and knife planes are counted beside pull-offs."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from workbench.reasoning.derivation.said import by_number, found, silent
from workbench.reasoning.knowledge import PlaneClass
from workbench.reasoning.results import MIXED, Finding
from workbench.reasoning.scene import Scene
from workbench.records import Coat, Plane, PlaneKind, PullOff, Rating, Source, SurveyEntry
from workbench.records.codes import FAILURE_FORMS, RatingMethod, Substrate, YesNo
from workbench.trade.pull_off import stress_of

_CLASS = {
    PlaneKind.SUBSTRATE: PlaneClass.SUB_COH,
    PlaneKind.COAT: PlaneClass.COAT_COH,
    PlaneKind.INTERFACE: PlaneClass.INTERCOAT,
    PlaneKind.GLUE: PlaneClass.GLUE,
}
_PARTED_AT = {
    RatingMethod.ASTM_D6677: 6.0,
    RatingMethod.ASTM_D3359_A: 4.0,
    RatingMethod.ASTM_D3359_B: 4.0,
}
_FORMS = ("blister_opened", *FAILURE_FORMS)


def class_of(plane: Plane) -> PlaneClass:
    """Return what a plane is to a cause."""
    return PlaneClass.SUB_IF if plane.code == "A/B" else _CLASS[plane.kind]


@dataclass(frozen=True, slots=True)
class Opened:
    """One test or opening, with the shares of the planes that parted, summing to 1."""

    shares: tuple[tuple[Plane, float], ...]
    source: Source
    times: int = 1


@dataclass(frozen=True, slots=True)
class Parting:
    """Where a side parts.

    Attributes:
        opened: Tests and openings that parted in the coating or its substrate.
        glued: Pull-offs that broke mostly in the glue.
        unnamed: Pull-offs whose break is not recorded.
    """

    opened: tuple[Opened, ...]
    glued: tuple[Source, ...]
    unnamed: tuple[Source, ...]

    @property
    def weight(self) -> int:
        """How many tests and openings there are."""
        return sum(one.times for one in self.opened)

    @property
    def by_plane(self) -> dict[Plane, float]:
        """Share of each plane, the largest first."""
        held: Counter[Plane] = Counter()
        for one in self.opened:
            for plane, share in one.shares:
                held[plane] += share * one.times  # type: ignore[assignment]  # Counter adds floats
        whole = sum(held.values()) or 1
        return {plane: share / whole for plane, share in held.most_common()}

    @property
    def by_class(self) -> dict[str, float]:
        """Share of each class of plane, the largest first."""
        held: Counter[str] = Counter()
        for plane, share in self.by_plane.items():
            held[class_of(plane).value] += share  # type: ignore[assignment]
        return dict(held.most_common())

    @property
    def plane(self) -> Plane | None:
        """The plane with the largest share."""
        return next(iter(self.by_plane), None)

    @property
    def sources(self) -> tuple[Source, ...]:
        """The tests and openings."""
        return tuple(dict.fromkeys(one.source for one in self.opened))


def untouched(scene: Scene, pull: PullOff) -> bool:
    """Return whether a pull-off is one of the film as it stands: nothing stripped, no trial."""
    if scene.dossier.treatment_of(pull) is not None:
        return False
    coats = scene.system(scene.dossier.area_of(pull))
    top = max((coat.order for coat in coats), default=None)
    return pull.on is None or pull.on == top


def parting(scene: Scene) -> Parting:
    """Return where this side parts."""
    return scene.once("parting", lambda: _parting(scene))


def _parting(scene: Scene) -> Parting:
    opened, glued, unnamed = [], [], []
    for pull in scene.all(PullOff):
        if not untouched(scene, pull):
            continue
        shares = _coating_shares(pull)
        if pull.breaks and pull.breaks.glue > scene.settings.glue_share:
            glued.append(pull.source)
        elif shares:
            opened.append(Opened(shares, pull.source))
        else:
            unnamed.append(pull.source)
    opened += [one for rating in scene.all(Rating) if (one := _of_rating(rating))]
    opened += [one for row in scene.all(SurveyEntry) if (one := _of_survey(row))]
    return Parting(tuple(opened), tuple(glued), tuple(unnamed))


def _coating_shares(pull: PullOff) -> tuple[tuple[Plane, float], ...]:
    held = [
        (share.plane, share.percent)
        for share in (pull.breaks.shares if pull.breaks else ())
        if share.plane and share.percent and not share.plane.in_glue
    ]
    whole = sum(percent for _, percent in held)
    return tuple((plane, percent / whole) for plane, percent in held)


def _of_rating(rating: Rating) -> Opened | None:
    plane = rating.plane.plane if rating.plane else None
    if plane is None or plane.in_glue or rating.on is not None:
        return None
    if rating.rating.value > _PARTED_AT.get(rating.method, float("inf")):
        return None
    return Opened(((plane, 1.0),), rating.source)


def _of_survey(row: SurveyEntry) -> Opened | None:
    if row.plane is None or row.plane.in_glue or not row.seen or row.form not in _FORMS:
        return None
    return Opened(((row.plane, 1.0),), row.source, times=max(row.count or 1, 1))


def describe(scene: Scene, plane: Plane) -> str:
    """Return a plane in words: "B/C, body coat to finish"."""
    return scene.dossier.plane_name(plane, scene.system())


# -- rules


def break_plane_dominant_failing(scene: Scene) -> Finding:
    """Return where this side breaks: the class of planes with 60 % or more, else mixed."""
    return dominant(scene, parting(scene))


def break_plane_dominant_nonfailing(scene: Scene) -> Finding:
    """Return where sound areas break; controls are asked only where no sound area was tested."""
    held = dominant(scene, parting(scene))
    return held if held.known else dominant(scene.control, parting(scene.control))


def dominant(scene: Scene, held: Parting) -> Finding:
    """Return the dominant class of planes; the glue only where no other test is valid."""
    settled = scene.settings.said("dominant", "rival_plane", "glue_share")
    if not held.opened:
        if held.glued:
            return found(
                PlaneClass.GLUE, _glued(scene, held.glued), held.glued, method="pull-off",
                quality=by_number(len(held.glued)), settled_by=settled,
            )  # fmt: skip
        return silent(f"no break was recorded in {scene.ground}", held.unnamed or scene.sources)
    shares = held.by_class
    top, share = next(iter(shares.items()))
    value = top if share >= scene.settings.dominant else MIXED
    return found(
        value, _where(scene, held), held.sources, n=held.weight,
        method="pull-off, knife and opened blisters", quality=by_number(held.weight),
        settled_by=settled, shares=tuple(shares.items()),
    )  # fmt: skip


def _glued(scene: Scene, pulls: Sequence[Source]) -> str:
    """Return that the glue gave way, and the strength that the coating held all the same."""
    many = {1: "the one pull-off", 2: "both pull-offs"}.get(
        len(pulls), f"all {len(pulls)} pull-offs"
    )
    words = f"{many} in {scene.ground} broke in the glue"
    rows = (scene.dossier.resolve(source) for source in pulls)
    read = [stress_of(row).mpa for row in rows if isinstance(row, PullOff)]
    least = min((mpa for mpa in read if mpa is not None), default=None)
    if least is None:
        return words
    return f"{words}, so the coating held at least {scene.showing.stress(least)}"


def _where(scene: Scene, held: Parting) -> str:
    """Return where a side parts, pull-offs told apart from knife tests and openings."""
    pulls = [one for one in held.opened if one.source.noun == PullOff.noun]
    others = [one for one in held.opened if one.source.noun != PullOff.noun]
    told = []
    for some, one_, many in (
        (pulls, "one pull-off", "pull-offs"),
        (others, "one knife test or opening", "knife tests and openings"),
    ):
        if some:
            kind = replace(held, opened=tuple(some))
            tests = one_ if kind.weight == 1 else f"{kind.weight} {many}"
            parts = [
                f"{_percent(share)} of the face at {describe(scene, plane)}"
                for plane, share in kind.by_plane.items()
                if share >= _WORTH_NAMING
            ]
            told.append(f"{tests} parted {'; '.join(parts)}")
    return f"in {scene.ground} {', and '.join(told)}"


_WORTH_NAMING = 0.05


def _percent(share: float) -> str:
    """Return a share in percent; less than the whole never reads as the whole."""
    rounded = round(100 * share)
    return f"over {rounded - 1} %" if rounded == 100 and share < _WHOLE else f"{rounded} %"


_WHOLE = 1 - 1e-9


def break_interface_which(scene: Scene) -> Finding:
    """Return which interface or layer is weakest, from the plane code and the layers."""
    held = parting(scene)
    if held.plane is None:
        return silent(f"no break was recorded in {scene.ground}", scene.sources)
    share = held.by_plane[held.plane]
    value = which(held.plane, scene.system())
    if value is None or share < scene.settings.dominant:
        return silent(f"{_where(scene, held)}, and no single layer or interface stands out",
                      held.sources)  # fmt: skip
    return found(
        value, f"the plane most often parted is {describe(scene, held.plane)}", held.sources,
        n=held.weight, method="plane and layers", quality=by_number(held.weight),
        settled_by=scene.settings.said("dominant"),
    )  # fmt: skip


def which(plane: Plane, system: tuple[Coat, ...]) -> str | None:
    """Return the name of a plane by its layers; None where it has none."""
    old = old_layers(system)
    if plane.lower is None or plane.upper is None:
        return None
    if plane.kind is PlaneKind.INTERFACE:
        return _interface(plane.lower, plane.upper, old)
    if plane.lower in old:
        return "within_old"
    if plane.lower == 0:
        return None
    if plane.lower == 1:
        return "within_first"
    top = max((coat.order for coat in system), default=plane.lower)
    return "within_top" if plane.lower == top else "within_intermediate"


_PAIRS = {0: "substrate_first", 1: "first_second", 2: "second_third"}


def _interface(lower: int, upper: int, old: frozenset[int]) -> str:
    if lower in old and upper not in old:
        return "new_on_old"
    return _PAIRS.get(lower, "later_pair")


def old_layers(system: tuple[Coat, ...]) -> frozenset[int]:
    """Return the orders of the layers that were there before this work."""
    return frozenset(
        coat.order
        for coat in system
        if (coat.existing is YesNo.YES and coat.order > 0)
        or (coat.order == 0 and coat.material == Substrate.EXISTING_COATING)
    )
