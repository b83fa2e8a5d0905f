"""The drop-down lists and hints of the field book."""

from openpyxl import Workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from workbench.exchange.field_book.columns import LISTS, BookColumn, columns_of, words_of
from workbench.exchange.field_book.explaining import hint_of
from workbench.records import BY_NOUN, CaseEntry, FieldInfo, Record, Refs
from workbench.records.codes import UNITS

_LAST_ROW = 20_001
_LONGEST_HINT = 250


class DropDowns:
    """The lists of one workbook; equal lists stand once."""

    def __init__(self, book: Workbook) -> None:
        """Begin with no list."""
        self._book = book
        self._lists: dict[tuple[str, ...], str] = {}

    def add_to(self, sheet: Worksheet, kind: type[Record]) -> None:
        """Give the columns of `sheet` their drop-downs and hints."""
        for at, column in enumerate(columns_of(kind), start=1):
            validation = self._of_column(kind, column)
            if validation is None:
                continue
            letter = get_column_letter(at)
            validation.add(f"{letter}2:{letter}{_LAST_ROW}")
            sheet.add_data_validation(validation)

    def write_lists(self) -> None:
        """Write the lists on a hidden sheet of their own."""
        sheet = self._book.create_sheet(LISTS)
        sheet.sheet_state = "hidden"
        for column, words in enumerate(self._lists, start=1):
            for row, word in enumerate(words, start=1):
                cell = sheet.cell(row, column, word)
                cell.data_type = "s"
                cell.number_format = "@"

    def _of_column(self, kind: type[Record], column: BookColumn) -> DataValidation | None:
        hint = hint_of(column.info) if column.info else "a unit, as MPa, um, degC"
        closed, words = False, UNITS
        if column.info:
            words = words_of(kind, column.info)
            closed = bool(words) and not _takes_more(kind, column.info)
            hint = hint or ("a word of the list" if closed else "")
        source = self._range(words) if words else _refs_range(column.info)
        if not (source or hint):
            return None
        return DataValidation(
            type="list" if source else None,
            formula1=source or None,
            allow_blank=True,
            showErrorMessage=closed,
            errorTitle=column.heading,
            error="This column takes a word of its list.",
            showInputMessage=bool(hint),
            promptTitle=column.heading[:32],
            prompt=hint[:_LONGEST_HINT] or None,
        )

    def _range(self, words: tuple[str, ...]) -> str:
        """Return where the list of `words` stands on the sheet of lists."""
        if words not in self._lists:
            letter = get_column_letter(len(self._lists) + 1)
            self._lists[words] = f"{LISTS}!${letter}$1:${letter}${len(words)}"
        return self._lists[words]


def _takes_more(kind: type[Record], info: FieldInfo) -> bool:
    """Return whether other words than those of the list may stand too."""
    open_end = any(word.endswith(":") for word in info.column.words)
    return info.column.open_words or open_end or kind is CaseEntry or info.name == "material"


def _refs_range(info: FieldInfo | None) -> str:
    """Return the refs of the sheet that a column refers to, as far as they are filled in."""
    if info is None or len(info.column.refers) != 1 or info.type is Refs:
        return ""
    kind = BY_NOUN[info.column.refers[0]]
    at = next(n for n, one in enumerate(columns_of(kind), start=1) if one.heading == "ref")
    letter = get_column_letter(at)
    sheet = f"'{kind.sheet}'"
    filled = f"COUNTA({sheet}!${letter}$2:${letter}${_LAST_ROW})"
    return f"OFFSET({sheet}!${letter}$2,0,0,MAX(1,{filled}),1)"
