"""A section while it is being read: scale, line, proposed seams, a person's changes to them."""

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from workbench.analysis.laboratory.micrographs import ReadSection, in_pixels, read_section
from workbench.analysis.sections import find_seams
from workbench.desk.laboratory.pictures import pixels_of
from workbench.desk.laboratory.results import moved_seam, section_reading
from workbench.records import KnownError, Points, Quantity, SectionReading, When
from workbench.records.codes import YesNo

Shares = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What is known so far of a section that is being read.

    Attributes:
        file: Name of the micrograph.
        sample: Ref of the sample.
        size: Width and height of the picture in pixels.
        scale: Two points as shares, or none yet.
        length: Between them, as written.
        doubt: Standard uncertainty of the length, as written; blank for none.
        line: Start and end as shares, or none yet.
        layers: Orders along the line, `;` between, "-" for a gap.
        profiles: How many parallel profiles.
        apart_px: Distance between them.
        mount: Angle of the cut in degrees, as written; blank for square.
        seams: Seams as proposed or moved; None before there are any.
        moved: Whether a person moved one.
    """

    file: str = ""
    sample: str = ""
    size: tuple[int, int] = (0, 0)
    scale: Shares = ()
    length: str = ""
    doubt: str = ""
    line: Shares = ()
    layers: str = ""
    profiles: int = 7
    apart_px: float = 12.0
    mount: str = ""
    seams: Points | None = None
    moved: bool = False

    @property
    def count(self) -> int:
        """How many layers and gaps there are."""
        return len([word for word in self.layers.split(";") if word.strip()])

    def reading(self, ref: str, by: str, on: When | None) -> SectionReading:
        """Return the record of what is constructed.

        Raises:
            KnownError: Something is not said yet, or cannot be read.
        """
        if len(self.scale) != 2 or not self.length.strip():
            raise KnownError("set the two ends of the scale, and say how long it is, as 500 um")
        if len(self.line) != 2:
            raise KnownError("draw the line across the layers, or write its two ends")
        if not self.count:
            raise KnownError("say the layers along the line, as 3; 2; 1, with - for a gap")
        if self.seams is None:
            raise KnownError("propose the seams first")
        reading = SectionReading(
            ref=ref, file=self.file, sample=self.sample, scale=Points(self.scale),
            length=Quantity.read(self.length), line=Points(self.line), profiles=self.profiles,
            length_uncertainty=Quantity.read(self.doubt) if self.doubt.strip() else None,
            apart=Quantity(f"{self.apart_px:g}", "px"), seams=self.seams, layers=self.layers,
            mount=Quantity(self.mount.strip(), "deg") if self.mount.strip() else None,
            proposed=YesNo.NO if self.moved else YesNo.YES, confirmed_by=by, confirmed=on,
            origin="read on the micrograph",
        )  # fmt: skip
        for fault in reading.faults():
            raise KnownError(f"{fault.wrong}; {fault.right}")
        return reading

    def read(self) -> ReadSection:
        """Return the thickness of the layers as constructed.

        Raises:
            KnownError: Something is not said yet.
            ValueError: Seams cross, or a unit is not one of length.
        """
        return read_section(self.reading("-", "-", None), self.size)

    def with_seam_moved(self, seam: int, by_px: float) -> "Sketch":
        """Return the sketch with one seam moved along the line."""
        reading = self.reading("-", "-", None)
        return replace(self, seams=moved_seam(reading, seam, by_px, self.size), moved=True)


def proposed(sketch: Sketch, path: Path) -> Sketch:
    """Return the sketch with the seams that the picture shows along the line.

    Raises:
        KnownError: Scale, line or layers are not said yet.
        ValueError: The line leaves the picture, or it shows too few steps.
        OSError: The picture cannot be read.
    """
    stand_in = Points(((0.5, 0.5),) * ((sketch.count + 1) * sketch.profiles))
    base = replace(sketch, seams=stand_in).reading("-", "-", None)
    start, end = in_pixels(base.line, sketch.size)
    picture = np.asarray(pixels_of(path), dtype=np.float64)
    seams = find_seams(
        picture, start, end, layers=sketch.count, profiles=sketch.profiles,
        apart_px=sketch.apart_px,
    )  # fmt: skip
    reading = section_reading(seams, (start, end), sketch.size, base)
    return replace(sketch, seams=reading.seams, moved=False)


def sketch_of(reading: SectionReading, size: tuple[int, int]) -> Sketch:
    """Return the sketch that a recorded reading was made from."""
    doubt = reading.length_uncertainty
    return Sketch(
        file=reading.file, sample=reading.sample, size=size, scale=reading.scale.points,
        length=str(reading.length), doubt=str(doubt or ""), line=reading.line.points,
        layers=reading.layers, profiles=reading.profiles, apart_px=reading.apart.value,
        mount=reading.mount.text if reading.mount else "", seams=reading.seams,
        moved=reading.proposed is YesNo.NO,
    )  # fmt: skip
