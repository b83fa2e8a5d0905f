"""A report of 300 photographs and 60 tables against the fastest plain way to the same document.

    python -m pytest tests/benchmarks/bench_report.py -s

The floor is measured in the same run: python-docx with what makes it slow left out. Tables are
parsed from text, each picture is taken in once without being compared with all others, and stored
pictures are not deflated again. It strips nothing, numbers nothing, and has no contents.
"""

import sys
import time
import tracemalloc
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from statistics import median

import docx
import numpy as np
from docx.image.image import Image as DocxImage
from docx.opc.constants import RELATIONSHIP_TYPE as RT
from docx.opc.packuri import PackURI
from docx.oxml import parse_xml
from docx.oxml.shape import CT_Inline
from docx.parts.image import ImagePart
from docx.shared import Mm
from PIL import Image

from workbench.records import Source
from workbench.report.blocks import Column, Paragraph, Plate, Plates, Row, Section, Table
from workbench.report.document import Imprint, write_document
from workbench.report.package import save
from workbench.report.text import text
from workbench.report.wordml import NAMESPACES
from workbench.resources import resource

PHOTOS, TABLES, ROWS, COLUMNS, PARAGRAPHS = 300, 60, 20, 6, 400
WORDS = (
    "The coating parted between body coat and seal coat over the whole face of the fixture. " * 3
)


def make_photos(folder: Path) -> list[Path]:
    """Return 300 photographs of 1600 × 1200 pixels, each another one."""
    chance = np.random.default_rng(1)
    ground = chance.integers(0, 255, (1200, 1600, 3), dtype=np.uint8)
    ground = np.asarray(Image.fromarray(ground).resize((200, 150)).resize((1600, 1200)))
    paths = []
    for number in range(PHOTOS):
        pixels = ground.copy()
        pixels[:40, : 4 * number + 4] = number % 255
        path = folder / f"{number}.jpg"
        Image.fromarray(pixels).save(path, quality=80)
        paths.append(path)
    return paths


def sections(paths: list[Path]) -> list[Section]:
    columns = tuple(Column(f"Column {n}") for n in range(COLUMNS))
    rows = tuple(Row(tuple(f"cell {r} {c}" for c in range(COLUMNS))) for r in range(ROWS))
    tables = tuple(Table(f"t{n}", f"Table of readings {n}", columns, rows) for n in range(TABLES))
    source = Source("photo", "PH")
    plates = tuple(
        Plate(f"PH-{n}", str(path), f"Photograph {n} of the floor", f"Photograph {n}", source)
        for n, path in enumerate(paths)
    )
    paragraphs = tuple(Paragraph(text(WORDS)) for _ in range(PARAGRAPHS))
    return [Section("all", "All of it", (*paragraphs, *tables, Plates(plates)))]


def ours(paths: list[Path], out: Path) -> None:
    imprint = Imprint(
        "R1", "Benchmark", "", "Draft", "A", (), "A", datetime(2026, 1, 1, tzinfo=UTC)
    )
    write_document(imprint, sections(paths), out, picture=Path)


def plain(paths: list[Path], out: Path) -> None:
    document = docx.Document(str(resource("report/template.docx")))
    body, part = document.element.body, document.part
    for _ in range(PARAGRAPHS):
        document.add_paragraph(WORDS)
    for number in range(TABLES):
        document.add_paragraph(f"Table {number}. Table of readings {number}", style="caption")
        body.insert_element_before(parse_xml(_table()), "w:sectPr")
    for number, path in enumerate(paths):
        image = DocxImage.from_file(str(path))
        name = PackURI(f"/word/media/picture{number}.jpg")
        held = ImagePart(name, image.content_type, image.blob, image)
        relation = f"rIdPicture{number}"
        part.rels.add_relationship(RT.IMAGE, held, relation)
        shape = CT_Inline.new_pic_inline(number, relation, "picture.jpg", Mm(76), Mm(57))
        document.add_paragraph().add_run()._r.add_drawing(shape)
        document.add_paragraph(f"Plate {number}. Photograph {number} of the floor", style="caption")
    save(document, out, {})


def _table() -> str:
    cell = "<w:tc><w:tcPr/><w:p><w:r><w:t>cell {} {}</w:t></w:r></w:p></w:tc>"
    rows = ("".join(cell.format(r, c) for c in range(COLUMNS)) for r in range(ROWS))
    return f"<w:tbl {NAMESPACES}><w:tblPr/>{''.join(f'<w:tr>{row}</w:tr>' for row in rows)}</w:tbl>"


def seconds(work: Callable[[], None], times: int = 5) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return median(taken)


def test_300_photographs_and_60_tables_take_little_more_than_the_plain_way(tmp_path: Path) -> None:
    paths = make_photos(tmp_path)
    out = tmp_path / "out.docx"
    floor = seconds(lambda: plain(paths, out))
    taken = seconds(lambda: ours(paths, out))
    size = sum(path.stat().st_size for path in paths)
    tracemalloc.start()
    ours(paths, out)
    _now, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    sys.stdout.write(f"\nplain {floor:.2f} s, report {taken:.2f} s, ratio {taken / floor:.2f}; "
          f"pictures {size / 1e6:.0f} MB, peak {peak / 1e6:.0f} MB")  # fmt: skip
    assert taken < 1.5 * floor
    assert peak < size + 120e6
