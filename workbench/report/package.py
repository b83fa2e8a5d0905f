"""The document as a file: the same records give the same bytes, pictures are not deflated again."""

import zipfile
from collections.abc import Mapping
from pathlib import Path

from docx.document import Document as WordDocument
from docx.opc.constants import RELATIONSHIP_TYPE as RT
from docx.opc.packuri import PackURI
from docx.opc.part import Part

from workbench.report.wordml import DECLARATION, attribute

_NO_TIME = (1980, 1, 1, 0, 0, 0)
_STORED = ("jpg", "jpeg", "png")
_TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
_RELS = "application/vnd.openxmlformats-package.relationships+xml"
_CUSTOM = "http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"
_VARIANT = "http://schemas.openxmlformats.org/officeDocument/2006/docPropsVTypes"
_CUSTOM_TYPE = "application/vnd.openxmlformats-officedocument.custom-properties+xml"
_FORMAT_ID = "{D5CDD505-2E9C-101B-9397-08002B2CF9AE}"
"""Format id of custom properties, fixed by ISO/IEC 29500-1, 15.2.12.2 (from memory)."""


def save(document: WordDocument, path: Path, replaced: Mapping[str, bytes]) -> None:
    """Write the document whole or not at all; `replaced` are parts by name with other bytes."""
    half = path.with_name(f"{path.name}.part")
    try:
        _write(document, half, replaced)
        half.replace(path)
    finally:
        half.unlink(missing_ok=True)


def _write(document: WordDocument, path: Path, replaced: Mapping[str, bytes]) -> None:
    package = document.part.package
    if package is None:
        raise ValueError("a document without a package")
    parts = list(package.iter_parts())
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        _put(file, "[Content_Types].xml", _content_types(parts))
        _put(file, "_rels/.rels", package.rels.xml)
        for part in parts:
            part.before_marshal()
            name = part.partname.membername
            _put(file, name, replaced.get(name, part.blob))
            if len(part.rels):
                _put(file, part.partname.rels_uri.lstrip("/"), part.rels.xml)


def _put(file: zipfile.ZipFile, name: str, blob: bytes) -> None:
    entry = zipfile.ZipInfo(name, _NO_TIME)
    stored = name.rpartition(".")[2].lower() in _STORED
    entry.compress_type = zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED
    file.writestr(entry, blob, compresslevel=None if stored else 6)


def _content_types(parts: list[Part]) -> bytes:
    endings = {"rels": _RELS, "xml": "application/xml"}
    overrides = []
    for part in parts:
        if part.content_type.startswith("image/"):
            endings[part.partname.ext] = part.content_type
        else:
            overrides.append(
                f'<Override PartName="{part.partname}" ContentType="{part.content_type}"/>'
            )
    defaults = "".join(
        f'<Default Extension="{ending}" ContentType="{kind}"/>'
        for ending, kind in sorted(endings.items())
    )
    return f'{DECLARATION}<Types xmlns="{_TYPES}">{defaults}{"".join(overrides)}</Types>'.encode()


def custom_properties(document: WordDocument, said: Mapping[str, str]) -> dict[str, bytes]:
    """Give the document named properties that its fields can show; return the part's bytes."""
    package = document.part.package
    if package is None:
        raise ValueError("a document without a package")
    each = "".join(
        f'<property fmtid="{_FORMAT_ID}" pid="{number}" name={attribute(name)}>'
        f"<vt:lpwstr>{attribute(value)[1:-1]}</vt:lpwstr></property>"
        for number, (name, value) in enumerate(said.items(), 2)
    )
    blob = (
        f'{DECLARATION}<Properties xmlns="{_CUSTOM}" xmlns:vt="{_VARIANT}">{each}</Properties>'
    ).encode()
    try:
        part = package.part_related_by(RT.CUSTOM_PROPERTIES)
    except KeyError:
        part = Part(PackURI("/docProps/custom.xml"), _CUSTOM_TYPE, blob, package)
        package.relate_to(part, RT.CUSTOM_PROPERTIES)
    return {part.partname.membername: blob}
