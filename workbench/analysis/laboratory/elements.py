"""Elements by face from the results of a case, with overlaps, ratios and what limits them."""

from dataclasses import dataclass

from workbench.analysis.elements import Closure, as_oxides, close, ratio_of_faces
from workbench.analysis.laboratory.standing import condition_of_sample
from workbench.analysis.xray import mistakable, overlaps
from workbench.records import Dossier, LabResult, Source
from workbench.records.codes import Condition, Qualifier

LIMIT_PERCENT = 0.1
"""Least share reported where a table gives no limit of its own, from sodium on; from memory."""


@dataclass(frozen=True, slots=True)
class FaceElements:
    """The elements of one face.

    Attributes:
        sample: Ref of the sample.
        face: The face, as written.
        condition: What the sample stands for.
        shares: Mass share in percent by element; 0 where below the limit.
        below: Limit in percent of those that were below it.
        control: Ref of the control named; empty where none is.
        sources: The results behind it.
    """

    sample: str
    face: str
    condition: Condition
    shares: dict[str, float]
    below: dict[str, float]
    control: str
    sources: tuple[Source, ...]

    @property
    def name(self) -> str:
        """Sample and face."""
        return ", ".join(part for part in (self.sample, self.face) if part)

    @property
    def whole(self) -> bool:
        """Whether oxygen was reported, so that the elements themselves may sum to 100 %."""
        return self.shares.get("O", 0.0) > 0

    @property
    def basis(self) -> str:
        """As what the shares are summed."""
        return "elements" if self.whole else "oxides, oxygen by their formulas"

    @property
    def closure(self) -> Closure | None:
        """The sum of the shares and what may be done with it; None where there is nothing."""
        shares = self.shares if self.whole else as_oxides(self.shares)
        try:
            return close(shares)
        except ValueError:
            return None

    @property
    def closure_words(self) -> str:
        """What may be done with the sum, in words."""
        closure = self.closure
        if closure is None:
            return "nothing above its limit"
        if closure.acceptable:
            return "yes: the sum lies from 98 to 102 %"
        less = closure.total_percent < 98
        missing = "something was not measured or not reported" if less else "more than there is"
        return f"no: {missing}"


@dataclass(frozen=True, slots=True)
class ElementRatio:
    """How many times more of an element a face shows than its control.

    Attributes:
        element: The element.
        face: The face.
        control: The control's face.
        ratio: The ratio; None where both lie below the limit.
        bound: "=", ">" or "<".
    """

    element: str
    face: FaceElements
    control: FaceElements
    ratio: float | None
    bound: str

    @property
    def sources(self) -> tuple[Source, ...]:
        """The results of the two faces on the element."""
        at = [list(one.shares).index(self.element) for one in (self.face, self.control)]
        return (self.face.sources[at[0]], self.control.sources[at[1]])


@dataclass(frozen=True, slots=True)
class ElementStudy:
    """Elements by face and their ratios to the control.

    Attributes:
        faces: The faces.
        ratios: Each element of a face against its control.
        warnings: Pairs of those reported that cannot be told apart, as sentences.
        mistakable: What else those reported may be, as sentences.
    """

    faces: tuple[FaceElements, ...]
    ratios: tuple[ElementRatio, ...]
    warnings: tuple[str, ...]
    mistakable: tuple[str, ...]


def study_elements(dossier: Dossier) -> ElementStudy:
    """Return the elements of every face of a case, each against its control."""
    faces = _faces(dossier)
    ratios = [
        _ratio(element, face, control)
        for face in faces
        for control in faces
        if control.sample == face.control and control is not face
        for element in face.shares
        if element in control.shares
    ]
    seen = frozenset(name for face in faces for name, share in face.shares.items() if share > 0)
    return ElementStudy(faces, tuple(ratios), overlaps(seen), mistakable(seen))


def _faces(dossier: Dossier) -> tuple[FaceElements, ...]:
    groups: dict[tuple[str, str], list[LabResult]] = {}
    for one in dossier.all(LabResult):
        if one.quantity.startswith("eds:") and one.value.quantity:
            groups.setdefault((one.sample, str(one.face or "")), []).append(one)
    return tuple(_face(dossier, sample, face, some) for (sample, face), some in groups.items())


def _face(dossier: Dossier, sample: str, face: str, some: list[LabResult]) -> FaceElements:
    shares, below = {}, {}
    for one in some:
        name, value = one.quantity.partition(":")[2], one.value.value or 0.0
        under = one.qualifier is Qualifier.BELOW
        shares[name] = 0.0 if under else value
        if under:
            below[name] = value
    return FaceElements(
        sample, face, condition_of_sample(dossier, sample), shares, below,
        next((one.control for one in some if one.control), ""), tuple(o.source for o in some),
    )  # fmt: skip


def _ratio(element: str, face: FaceElements, control: FaceElements) -> ElementRatio:
    limit = max(face.below.get(element, 0.0), control.below.get(element, 0.0)) or LIMIT_PERCENT
    try:
        ratio, bound = ratio_of_faces(
            face.shares[element], control.shares[element], detection_limit=limit
        )
    except ValueError:
        return ElementRatio(element, face, control, None, "")
    return ElementRatio(element, face, control, ratio, bound)
