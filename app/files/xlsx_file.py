"""A table as a workbook of one sheet, laid out like the comma-separated file."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pandas as pd
from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName

from app.files.about import About
from app.files.cells import Cell, is_risky, table_cells
from app.text.exact import SHARE

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

SHEET, RANGE = "Table", "the_table"
_WIDEST, _NARROWEST, _LONG = 44, 10, 100


def xlsx_file(frame: pd.DataFrame, about: About) -> bytes:
    """A workbook: what it is on top, then names and rows; the name `the_table` marks these.

    Texts are written as texts: a workbook, unlike comma-separated text, can say so.
    """
    book = Workbook()
    sheet = book.active if book.active is not None else book.create_sheet()
    sheet.title = SHEET
    lines = about.lines()
    for row, pair in enumerate(lines, 1):
        _write_row(sheet, row, pair)
    names, rows = table_cells(frame)
    first = len(lines) + 1
    _write_row(sheet, first, names)
    for row, cells in enumerate(rows, first + 1):
        _write_row(sheet, row, cells, names)
    _look(sheet, first, names, rows)
    end = f"${get_column_letter(max(1, len(names)))}${first + len(rows)}"
    book.defined_names[RANGE] = DefinedName(RANGE, attr_text=f"{SHEET}!$A${first}:{end}")
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def _write_row(
    sheet: Worksheet, row: int, cells: list[str] | list[Cell] | tuple[str, str],
    names: list[str] | None = None,
) -> None:  # fmt: skip
    for column, value in enumerate(cells, 1):
        if value is None:
            continue
        cell = sheet.cell(row, column)
        if not isinstance(value, str):
            cell.value = value
            if names and names[column - 1].endswith(SHARE):
                cell.number_format = "0%"
            continue
        cell.value = value
        cell.data_type = "s"
        # Keeps it a text even when somebody edits the cell.
        cell.quotePrefix = is_risky(value)


def _look(sheet: Worksheet, first: int, names: list[str], rows: list[list[Cell]]) -> None:
    for cell in sheet[first]:
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
    for number, name in enumerate(names):
        longest = max([len(name), *(len(str(row[number] or "")) for row in rows[:_LONG])])
        width = min(_WIDEST, max(_NARROWEST, longest + 2))
        sheet.column_dimensions[get_column_letter(number + 1)].width = width
    sheet.freeze_panes = f"A{first + 1}"
