"""The spreadsheet that goes back to the clerk: set-aside rows, why, and what to do.

It can be corrected and loaded as it is: the reader passes by the columns that were added.
"""

import json
from pathlib import Path
from typing import cast

import duckdb
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from ingest.contracts import Contract
from ingest.readers.table import SHEET_COLUMNS, Table

MOST_ROWS = 2_000
_WIDTHS = (8.0, 48.0, 48.0)
_FIX_FILL = PatternFill("solid", fgColor="F3E3D3")
_OWN_FILL = PatternFill("solid", fgColor="DCE6EE")
_WRAPPED = Alignment(wrap_text=True, vertical="top")


def write_sheet(
    con: duckdb.DuckDBPyConnection, contract: Contract, table: Table, folder: Path
) -> Path | None:
    """Write the rows of a file that are still set aside to an XLSX file; its path, if any are.

    They may come from an earlier load of the same file, with the reasons that the ledger has for
    them. At most `MOST_ROWS` rows, the first ones: more are not mended by hand but where they
    came from.
    """
    rows = _rows(con, table)
    if not rows:
        return None
    folder.mkdir(parents=True, exist_ok=True)
    path = sheet_path(folder, contract.name, table.file_hash)
    columns = [one for one in contract.field_names if one in table.header]
    book = Workbook(write_only=True)
    # Written row by row to disk, hence of another class, but used as any sheet is.
    sheet = cast(Worksheet, book.create_sheet(contract.name))
    _head(sheet, columns)
    for line, row_json, reasons, remedies in rows:
        cells = json.loads(row_json)
        told = [_cell(sheet, one, is_wrapped=True) for one in (line, reasons, remedies)]
        own = [_cell(sheet, cells.get(one), is_wrapped=False) for one in columns]
        sheet.append([*told, *own])
    book.save(path)
    return path


def sheet_path(folder: Path, feed: str, file_hash: str) -> Path:
    """Where the sheet of a table stands, if one was written."""
    return folder / f"{feed}-{file_hash[:8]}-to-correct.xlsx"


def _rows(con: duckdb.DuckDBPyConnection, table: Table) -> list[tuple[int, str, str, str]]:
    return con.execute(
        f"""
        with held as (
            select distinct line_number, row_json
            from ledger.quarantine
            where file_hash = $file_hash and feed = $feed and status = 'held'
            order by line_number, row_json
            limit {MOST_ROWS}
        ),
        told as (
            select line_number, string_agg(distinct message, chr(10) order by message) as reasons,
                string_agg(distinct remedy, chr(10) order by remedy) as remedies
            from ledger.findings
            where file_hash = $file_hash and feed = $feed and verdict = 'quarantine'
                and line_number in (select line_number from held)
            group by line_number
        )
        select held.line_number, held.row_json, told.reasons, told.remedies
        from held
        left join told on held.line_number = told.line_number
        order by held.line_number, held.row_json
        """,
        {"file_hash": table.file_hash, "feed": table.feed},
    ).fetchall()


def _head(sheet: Worksheet, columns: list[str]) -> None:
    names = [*SHEET_COLUMNS, *columns]
    for number, column in enumerate(names, start=1):
        width = _WIDTHS[number - 1] if number <= len(_WIDTHS) else max(12.0, len(column) + 2.0)
        sheet.column_dimensions[get_column_letter(number)].width = width
    sheet.freeze_panes = f"{get_column_letter(len(SHEET_COLUMNS) + 1)}2"
    head = []
    for column in names:
        cell = WriteOnlyCell(sheet, value=column)
        cell.font = Font(bold=True)
        cell.fill = _FIX_FILL if column in SHEET_COLUMNS else _OWN_FILL
        head.append(cell)
    sheet.append(head)


def _cell(sheet: Worksheet, value: str | int | None, *, is_wrapped: bool) -> object:
    """Text stays text: a formula that was sent must come back as it was, not be worked out.

    Only cells that need a style get one: styling every cell takes longer than all the checks.
    """
    is_formula = isinstance(value, str) and value.startswith("=")
    if not is_formula and not is_wrapped:
        return value
    cell = WriteOnlyCell(sheet, value=value)
    if is_formula:
        cell.data_type = "s"
    if is_wrapped:
        cell.alignment = _WRAPPED
    return cell
