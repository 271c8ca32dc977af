"""A contract -> an empty file that a school fills in: a workbook with help, or a plain CSV."""

import csv
from datetime import datetime
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from ingest.contracts.dictionary import limits, type_in_words
from ingest.contracts.model import VOIDED, Contract, Field

_LAST_ROW = 5000
_LIST_LIMIT = 255  # a workbook keeps the choices of a list in at most 255 characters
_TEXT_FORMAT = "@"
_HEAD = PatternFill("solid", fgColor="E8E3D8")
_MADE = datetime(2000, 1, 1)  # noqa: DTZ001 - a workbook's property has no zone; fixed for same bytes


def blank_sheet(contract: Contract, path: Path) -> Path:
    """Write an empty file for one feed to `path` (.xlsx or .csv) and return the path.

    The workbook has the header and drop-down lists on its first sheet and an explanation of each
    column on its second. Cells that hold keys, codes or dates are set to text, so that no
    spreadsheet turns them into numbers. Raises `ValueError` for another ending.
    """
    if path.suffix.lower() == ".csv":
        with path.open("w", encoding="utf-8-sig", newline="") as file:
            csv.writer(file).writerow(_columns(contract))
    elif path.suffix.lower() == ".xlsx":
        _workbook(contract).save(path)
    else:
        raise ValueError(f"a blank sheet is written as .xlsx or .csv, not {path.suffix!r}")
    return path


def _columns(contract: Contract) -> list[str]:
    return [one.name for one in contract.fields if one.name != VOIDED]


def _workbook(contract: Contract) -> Workbook:
    book = Workbook()
    book.properties.created = book.properties.modified = _MADE
    sheet = book.active
    if not isinstance(sheet, Worksheet):
        raise TypeError("a new workbook has no sheet")
    sheet.title = contract.name
    _fill_in_sheet(sheet, [contract.field(one) for one in _columns(contract)])
    _explain(book.create_sheet("what each column is"), contract)
    return book


def _fill_in_sheet(sheet: Worksheet, fields: list[Field]) -> None:
    sheet.append([one.name for one in fields])
    sheet.freeze_panes = "A2"
    for number, field in enumerate(fields, start=1):
        letter = get_column_letter(number)
        head = sheet[f"{letter}1"]
        head.font, head.fill = Font(bold=True), _HEAD
        column = sheet.column_dimensions[letter]
        column.width = max(12, len(field.name) + 2)
        if field.type not in ("integer", "number"):
            # The format of the column covers rows that do not exist yet.
            column.number_format = _TEXT_FORMAT
        choices = _choices(field)
        if choices:
            sheet.add_data_validation(choices)
            choices.add(f"{letter}2:{letter}{_LAST_ROW}")


def _choices(field: Field) -> DataValidation | None:
    """A drop-down list of the codes; none for lists of codes, which a drop-down cannot hold."""
    codes = ("true", "false") if field.type == "boolean" else field.enum
    joined = ",".join(codes)
    if not codes or len(joined) > _LIST_LIMIT:
        return None
    rule = DataValidation(type="list", formula1=f'"{joined}"', allow_blank=not field.is_required)
    rule.errorTitle, rule.error = "Not on the list", f"{field.title}: choose one of the list."
    rule.promptTitle, rule.prompt = field.title[:32], field.description[:255]
    rule.showErrorMessage = rule.showInputMessage = True
    return rule


def _explain(sheet: Worksheet, contract: Contract) -> None:
    sheet.append(["column", "title", "kind", "needed", "codes, range", "example", "what it is"])
    for field in contract.fields:
        needed = "yes" if field.is_required else "no"
        words = [type_in_words(field), needed, limits(field), field.example, field.description]
        sheet.append([field.name, field.title, *(one.replace("`", "") for one in words)])
    for letter, width in zip("ABCDEFG", (24, 24, 20, 8, 40, 28, 80), strict=True):
        sheet.column_dimensions[letter].width = width
        sheet[f"{letter}1"].font, sheet[f"{letter}1"].fill = Font(bold=True), _HEAD
    for row in sheet.iter_rows(min_row=2):
        for cell in row:
            cell.number_format = _TEXT_FORMAT
            cell.alignment = Alignment(wrap_text=True, vertical="top")
