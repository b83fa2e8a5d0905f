"""Sections with their layers, and what was seen under microscopes, beside the picture of it."""

from collections.abc import Iterable
from pathlib import Path

import numpy as np
from matplotlib.figure import Figure as Drawing
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

from workbench.analysis.laboratory.found import Laboratory
from workbench.analysis.laboratory.micrographs import ReadSection
from workbench.figures.observed import draw_observed
from workbench.figures.section import draw_section
from workbench.records import Microscopy
from workbench.report.blocks import Block, Figure, Row
from workbench.report.draft import Draft
from workbench.report.figures import WIDTH_MM, look_of
from workbench.report.laboratory.common import (
    MOST_FIGURES,
    drawn,
    headed,
    heads,
    of_sample,
    original,
    table,
)
from workbench.report.wording import listed, sentence
from workbench.trade.showing import THICKNESS, System, unit_sign

_WIDEST = 1600
"""Most pixels across of a picture beside observations; the original is kept as it is."""


def sections(draft: Draft, found: Laboratory) -> list[Block]:
    """Return the layers of each section, drawn on it."""
    if not found.sections:
        return []
    shown = [figure for one in found.sections[:MOST_FIGURES] if (figure := _section(draft, one))]
    blocks: list[Block] = [*shown, *_layers(draft, found)]
    return headed("Sections", "sections", blocks)


def _named(draft: Draft, one: ReadSection) -> list[str]:
    system = draft.dossier.system_of(draft.dossier.area_at(one.reading.sample))
    named = {coat.order: coat.product or coat.material.replace("_", " ") for coat in system}
    return ["gap" if o is None else named.get(o, f"coat {o}") for o in one.reading.orders]


def _layers(draft: Draft, found: Laboratory) -> list[Block]:
    def um(value: float) -> str:
        return draft.show.value(THICKNESS, value, unit=False)

    rows = (
        Row(
            (
                one.reading.ref, one.reading.sample, name, um(layer.least_um), um(layer.mean_um),
                um(layer.greatest_um), f"± {um(2 * layer.uncertainty_um)}, k = 2",
                f"{one.reading.profiles}", one.reading.confirmed_by,
            ),
            (one.reading.source,),
        )
        for one in found.sections
        for name, layer in zip(_named(draft, one), one.section.layers, strict=True)
    )  # fmt: skip
    unit = unit_sign(THICKNESS.us if draft.show.system is System.US else THICKNESS.si)
    numeric = ("Least", "Mean", "Greatest", "Profiles")
    columns = heads(
        "Ref", "Sample", "Layer", *numeric[:3], "Uncertainty", "Profiles", "Confirmed by",
        numeric=numeric,
    )  # fmt: skip
    cuts = sorted({one.section.mount_deg for one in found.sections if one.section.mount_deg < 90})
    cut = f" and for cuts at {listed([f'{at:g}°' for at in cuts])} to the surface" if cuts else ""
    told = [f" {one.reading.ref}: {sentence(one.reading.note)}" for one in found.sections
            if one.reading.note]  # fmt: skip
    note = (
        f"Corrected for the tilt of the profiles{cut}; one section is one place, and what the "
        f"laboratory reported over more places stands among its results.{''.join(told)}"
    )
    caption = f"Thickness by layer on sections, {unit}"
    return table("section layers", caption, columns, rows, note)


def _section(draft: Draft, one: ReadSection) -> Figure | None:
    path = draft.picture(one.reading.file)
    if path is None:
        return None
    names = _named(draft, one)

    def draw(drawing: Drawing) -> object:
        return draw_section(
            drawing, _pixels(path), one.seams, one.section, one.scale, names=names,
            source=one.reading.source, look=look_of(draft),
        )  # fmt: skip

    caption = (
        f"Section of {one.reading.sample} ({original(draft, one.reading.file)}): layers on "
        f"{one.reading.profiles} profiles, confirmed by {one.reading.confirmed_by}"
    )
    alt = "Micrograph with the seams between layers marked, and the thickness of each layer."
    return Figure(
        f"section {one.reading.ref}", caption, alt, draw, (WIDTH_MM, 90.0), (one.reading.source,)
    )


def _pixels(path: Path) -> NDArray[np.uint8]:
    with Image.open(path) as image:
        return np.asarray(ImageOps.exif_transpose(image).convert("RGB"), dtype=np.uint8)


def microscopy(draft: Draft, found: Laboratory | None) -> list[Block]:
    """Return observations in a table, and pictures that are not shown as sections already."""
    held = draft.dossier.all(Microscopy)
    if not held:
        return []
    rows = (
        Row(
            (
                one.ref, of_sample(draft, one.sample, str(one.face or "")), how(one),
                one.feature, draft.show.outcome(one.found), one.where or "–",
                one.control or "none named", one.by or "not recorded",
            ),
            (one.source,),
        )
        for one in held
    )  # fmt: skip
    columns = heads(
        "Ref", "Sample, face", "Seen how", "Looked for", "Found", "Where", "Control", "By"
    )
    caption = "Microscopy and petrography, one thing looked for in each row"
    blocks = table("microscopy", caption, columns, rows)
    drawn_on = {one.reading.file for one in found.sections} if found else set()
    blocks += _beside_pictures(draft, [one for one in held if one.file not in drawn_on])
    return headed("Microscopy and petrography", "microscopy", blocks)


def _beside_pictures(draft: Draft, held: Iterable[Microscopy]) -> list[Block]:
    by_file: dict[str, list[Microscopy]] = {}
    for one in held:
        if one.file:
            by_file.setdefault(one.file, []).append(one)
    figures = (_observed(draft, file, some) for file, some in by_file.items())
    shown: list[Block] = [figure for figure in figures if figure]
    return shown[:MOST_FIGURES]


def _observed(draft: Draft, file: str, some: list[Microscopy]) -> Figure | None:
    path = draft.picture(file)
    if path is None:
        return None
    try:
        with Image.open(path) as image:
            image.load()
    except (UnidentifiedImageError, OSError):
        return None
    said = [
        (f"{one.ref}, {one.feature}", _found(draft, one), one.source) for one in some
    ]  # fmt: skip
    title = ", ".join((some[0].sample, how(some[0])))

    def draw(drawing: Drawing) -> object:
        with Image.open(path) as image:
            upright = ImageOps.exif_transpose(image).convert("RGB")
            upright.thumbnail((_WIDEST, _WIDEST))
            pixels = np.asarray(upright, dtype=np.uint8)
        return draw_observed(drawing, pixels, said, title=title, look=look_of(draft))

    caption = (
        f"What was looked for on {some[0].sample}, beside its picture, {original(draft, file)}"
    )
    alt = "A picture from the microscope, and at its right what was looked for and found."
    behind = tuple(one.source for one in some)
    return Figure(f"observed {some[0].ref}", caption, alt, drawn(draw), (WIDTH_MM, 66.0), behind)


def _found(draft: Draft, one: Microscopy) -> str:
    where = f"; {one.where}" if one.where else ""
    note = f"; {one.note}" if one.note else ""
    return f"{draft.show.outcome(one.found)}{where}{note}"


def how(one: Microscopy) -> str:
    """Return how something was looked at: method, preparation, light, magnification, fields."""
    times = f"{one.magnification}×" if one.magnification else ""
    fields = f"{one.fields_seen} fields" if one.fields_seen else ""
    said: Iterable[object] = (one.method, one.preparation, one.illumination, times, fields)
    return ", ".join(str(part) for part in said if part) or "not recorded"
