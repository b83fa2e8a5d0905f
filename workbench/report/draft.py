"""What every section is drafted from."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from workbench.records import (
    Area,
    Coat,
    Dossier,
    Face,
    LabResult,
    Measurement,
    Party,
    Plane,
    Record,
    Source,
    layer_sign,
)
from workbench.records.codes import Condition, Role
from workbench.report.blocks import Paragraph, Voice
from workbench.report.given import Picture, Results, Setup, no_picture
from workbench.report.text import Footnote, See, Text, Value, Words, text
from workbench.report.values import Values
from workbench.report.wording import coat_words, listed
from workbench.trade.showing import Showing

_PARTS = {"outer": "outer face"}


@dataclass(frozen=True)
class Draft:
    """Records, results and setup of one edition, and how its numbers are shown."""

    dossier: Dossier
    results: Results
    setup: Setup
    picture: Picture = no_picture

    @cached_property
    def show(self) -> Showing:
        """How numbers are shown."""
        return Showing(self.setup.system)

    @cached_property
    def values(self) -> Values:
        """The live numbers of the case."""
        return Values(self.dossier, self.results, self.show)

    @cached_property
    def author(self) -> str:
        """The author of the edition; the first investigator where none is set."""
        held = self._investigators
        return self.setup.author or (held[0].name if held else "")

    @cached_property
    def practice(self) -> str:
        """Name and address of the practice; empty where no investigator is recorded."""
        held = self._investigators
        own = [one for one in held if one.name == self.author] or held
        return ", ".join(filter(None, (own[0].name, own[0].contact))) if own else ""

    @property
    def _investigators(self) -> list[Party]:
        return [one for one in self.dossier.all(Party) if one.role is Role.INVESTIGATOR]

    def value(self, name: str) -> Value:
        """Return a live number by its name."""
        return self.values(name)

    def plane(self, plane: Plane, area: Area | None = None) -> str:
        """Return a plane in words, in the system of `area`."""
        return self.dossier.plane_name(plane, self.dossier.system_of(area))

    def face(self, one: Measurement | LabResult) -> str:
        """Return what was looked at: a plane in words, the face of a layer there, a depth."""
        face = one.plane if isinstance(one, Measurement) else one.face
        depth = one.depth if isinstance(one, Measurement) else None
        said = self.face_words(face, self.dossier.area_of(one))
        deep = f"{self.show.quantity(depth, 'mm')} deep" if depth else ""
        return ", ".join(filter(None, (said, deep))) or "–"

    def face_words(self, face: Face | None, area: Area | None) -> str:
        """Return a face in words: a plane, the face of a layer there, the bulk of a layer."""
        layers = self.dossier.system_of(area)
        named = {layer_sign(coat.order): coat_words(coat) for coat in layers}
        said = []
        if face and face.plane:
            said.append(self.dossier.plane_name(face.plane, layers))
            if face.side:
                said.append(f"face of {named.get(face.side, face.side)}")
        elif face:
            part, *rest = str(face).split()
            of = " ".join(named.get(word, word) for word in rest)
            said.append(f"{_PARTS.get(part, part)} of {of}" if of else _PARTS.get(part, part))
        return ", ".join(said)

    def plane_letter(self, coat: Coat) -> str:
        """Return the letter of a layer; words always stand beside it."""
        return layer_sign(coat.order)

    @cached_property
    def systems(self) -> tuple[tuple[Coat, ...], ...]:
        """The layers of each system, from the substrate up."""
        names = dict.fromkeys(coat.system for coat in self.dossier.all(Coat))
        return tuple(self.dossier.system(name) for name in names)

    def named(self, areas: Sequence[Area]) -> str:
        """Return areas by name and ref; those that lie within another of them last."""
        refs = {area.ref for area in areas}
        outer = [_with_ref(one) for one in areas if one.within not in refs]
        inner = [_with_ref(one) for one in areas if one.within in refs]
        return listed(outer) + (f" and, within them, {listed(inner)}" if inner else "")

    def areas(self, *conditions: Condition) -> tuple[Area, ...]:
        """Return the areas of these conditions, or all."""
        held = self.dossier.all(Area)
        return tuple(a for a in held if not conditions or a.condition in conditions)


def _with_ref(area: Area) -> str:
    """Return an area by name, with its ref where the name does not end with it."""
    return area.name if area.name.split()[-1:] == [area.ref] else f"{area.name} ({area.ref})"


def sources(records: Iterable[Record]) -> tuple[Source, ...]:
    """Return the records as sources."""
    return tuple(record.source for record in records)


def fact(
    name: str,
    *parts: str | Words | Value | See | Footnote | Text,
    of: Iterable[Record] = (),
    of_sources: tuple[Source, ...] = (),
) -> Paragraph:
    """Return a paragraph that states a fact; a person may edit it by its name."""
    return Paragraph(text(*parts), Voice.FACT, (*sources(of), *of_sources), name=name)


def plain(*parts: str | Words | Value | See | Text) -> Paragraph:
    """Return a paragraph in which the report speaks of itself."""
    return Paragraph(text(*parts), Voice.PLAIN)


def caution(*parts: str) -> Paragraph:
    """Return a caution."""
    return Paragraph(text(*parts), Voice.CAUTION)
