"""The header rows of the field book, word for word."""

import pytest

from workbench.exchange.field_book.columns import columns_of, header_of, kind_of_sheet
from workbench.records import BOOK, BY_NOUN, Record, fields_of

HEADERS = {
    "case": "key, value",
    "parties": "name*, role*, contact",
    "documents": "ref*, title*, kind, from, dated, received, status*, file, note",
    "coats": "system*, order*, material*, product, colour, existing, dft nominal, dft min, dft max,"
    " dft unit, volume solids %, mix ratio, mix basis, pot life min, apply min C, apply max C,"
    " max rh %, min rh %, dew margin C, note",
    "recoat": "product*, with, at C, min h, max h, source",
    "limits": "quantity*, for, at C, method, min, max, unit, source*, note",
    "areas": "ref*, name*, condition*, system, within, size, size unit, outline, features, note",
    "events": "area, event*, start*, end, value, unit, source, quality, note",
    "plan": "file, x0 px, y0 px, x1 px, y1 px, length m",
    "applications": "ref, area*, coat*, start*, end, batch a, batch b, qty a, qty b, qty unit,"
    " thinner, thinner %, wft, wft unit, method, applicator, abraded, cleaned, air C, rh %,"
    " surface C, wet bulb C, quality, source, note",
    "weather": "time*, area, air C, rh %, surface C, rain, on site",
    "locations": "ref*, area*, x, y, level, chosen, features, description",
    "survey": "ref*, at*, form*, plane, size, density, scale, extent %, count, of, note, photo",
    "pull-off": "ref*, location*, date, method*, on, treatment, fixture, fixture unit, shape,"
    " cut round, glue, cure h, reading, unit, calibrated for, seconds, came away, breaks, operator,"
    " instrument, note",
    "ratings": "ref*, location*, date, method*, rating*, plane, on, operator, note",
    "thickness": "ref*, location*, method*, layer*, readings*, unit*, date, operator, note",
    "measurements": "ref*, location*, method*, quantity*, value*, unit, qualifier, plane, depth,"
    " date, operator, note",
    "samples": "ref*, parent, kind*, at, purpose, taken, taken by, container, seal, face, amount,"
    " amount unit, condition, note",
    "custody": "sample*, when*, event*, from, to, place, seal, seal condition, condition, carrier,"
    " note",
    "lab": "ref*, sample*, face, method*, quantity*, value*, unit, qualifier, uncertainty, k,"
    " control, condition, laboratory, analyst, date, deviation, file, note",
    "photos": "file*, ref, taken, at, direction, caption",
    "instruments": "ref*, kind*, serial, calibrated, due, certificate",
    "answers": "observation*, value*, area, by, reason, quality",
    "requests": "ref*, sample*, question*, method*, edition, conditions, control, blank,"
    " laboratory, own laboratory, analyst, supervision, asked, asked by, deviation, note,"
    " attachments",
    "curves": "ref*, file*, part, kind*, for, sample, face, ordinate, technique, date, analyst,"
    " note",
    "assignments": "ref*, file*, part, candidate*, bands, reason*, what speaks against it, by*,"
    " date",
    "glass-transitions": "ref*, file*, part, sample, face, heat*, baseline before, from*,"
    " baseline before, to*, baseline after, from*, baseline after, to*, definition*, rate K/min,"
    " by*, date, note, check material",
    "peaks": "ref*, file*, part, sample, face, peak of*, from*, to*, rate K/min, specimen,"
    " exotherm up, against, check material, by*, date, note",
    "tg-estimates": "ref*, sample*, face, rule*, shares %, Tg of each, cure %, Tg read,"
    " Tg uncured, Tg cured, lambda, basis*, by*, date, note",
    "section-readings": "ref*, file*, sample*, scale*, length*, uncertainty of the length, line*,"
    " profiles*, apart*, seams*, layers*, cut, edges proposed by the program, confirmed by*,"
    " confirmed, note",
    "microscopy": "ref*, sample*, face, preparation, illumination, magnification, looked for*,"
    " found*, where, fields seen, control, picture, method, by, date, note",
    "colour": "ref*, at*, read with*, L*, a*, b*, gloss, gloss angle, geometry, against,"
    " instrument, file, by, date, note",
}


def test_the_sheets_stand_in_their_order() -> None:
    assert list(kind_of_sheet()) == list(HEADERS)


@pytest.mark.parametrize("sheet", HEADERS)
def test_a_header_row_has_the_agreed_words_in_their_order(sheet: str) -> None:
    assert ", ".join(header_of(kind_of_sheet()[sheet])) == HEADERS[sheet]


@pytest.mark.parametrize("kind", BOOK, ids=lambda kind: kind.noun)
def test_every_field_of_the_book_has_its_column_and_every_unit_its_numbers(
    kind: type[Record],
) -> None:
    in_book = [info.name for info in fields_of(kind) if info.column.in_book]
    columns = columns_of(kind)
    assert [c.info.name for c in columns if c.info] == in_book
    assert all(c.unit_of for c in columns if c.info is None)
    assert len({c.heading for c in columns}) == len(columns)


def test_what_is_said_at_the_desk_only_has_no_column() -> None:
    headings = [column.heading for column in columns_of(BY_NOUN["custody"])]
    assert "corrects" not in headings
