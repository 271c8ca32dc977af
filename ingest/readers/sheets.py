"""Spreadsheets: each sheet becomes a text table that says what the sheet shows, no more.

A cell typed as a date comes out as 2026-05-31, a time as 09:05:00, a whole number without a
decimal point. A formula comes out as a formula, for its last result is not to be trusted.
"""

import re
import zipfile
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from xml.etree import ElementTree

import pandas as pd

from ingest.contracts import Contract
from ingest.findings import Finding, generic
from ingest.readers.delimited import hash_of
from ingest.readers.detect import feed_of, header_findings
from ingest.readers.table import Table

SUFFIXES = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods")
LINE_COLUMN = "line_in_sheet"
_FORMULA = re.compile(rb'<c [^>]*?r="([A-Z]{1,3})([0-9]{1,7})"[^>]*><f')
_MOST_UNPACKED = 2 << 30
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


def read(
    path: Path,
    scratch: Path,
    contracts: Mapping[str, Contract],
    *,
    shown: str | None = None,
    file_hash: str | None = None,
    feed: str | None = None,
) -> list[Table]:
    """One table for each sheet that is one; `book.xlsx/Sheet1` when there are several."""
    name, file_hash = shown or path.name, file_hash or hash_of(path)
    broken = _damage(path, name)
    base = Table(feed or "", name, file_hash, path, ",", ())
    if broken:
        return [replace(base, findings=(broken,))]
    try:
        # object: whatever a cell holds is kept as it is, with its own type.
        book = pd.read_excel(
            path, sheet_name=None, header=None, engine="calamine", dtype=object,
            keep_default_na=False, na_filter=False,
        )  # fmt: skip
    except Exception as fault:  # noqa: BLE001 - the library raises whatever a broken book provokes
        finding = generic("unreadable_file", name, detail=f"{type(fault).__name__}.")
        return [replace(base, findings=(finding,))]
    filled = {title: frame for title, frame in book.items() if not frame.empty}
    if not filled:
        return [replace(base, findings=(generic("empty_file", name),))]
    formulas = _formulas(path)
    tables = []
    for number, (title, frame) in enumerate(filled.items()):
        text = _as_text(frame, formulas.get(title, []))
        to = scratch / f"{path.stem}-sheet-{number}.csv"
        if len(filled) == 1:
            tables.append(_sheet(text, Path(name).stem, to, base, contracts))
            continue
        own = replace(base, file_name=f"{name}/{title}", file_hash=f"{file_hash}/{title}")
        tables.append(_sheet(text, title, to, own, contracts))
    return _without_notes(tables)


def _damage(path: Path, name: str) -> Finding | None:
    """A book is a zip: one that unpacks to gigabytes is not opened."""
    if path.suffix.lower() == ".xls":
        return None
    if not zipfile.is_zipfile(path):
        return generic(
            "unreadable_file", name, detail="it is not a spreadsheet, or has a password."
        )
    with zipfile.ZipFile(path) as book:
        if sum(one.file_size for one in book.infolist()) > _MOST_UNPACKED:
            return generic("unsafe_archive", name, detail="the sheet is far too large unpacked.")
    return None


def _as_text(frame: pd.DataFrame, formulas: list[tuple[int, int]]) -> pd.DataFrame:
    text = frame.map(_text_of)
    for row, column in formulas:
        if row < text.shape[0] and column < text.shape[1]:
            text.iat[row, column] = "=formula"
    return text


def _text_of(value: object) -> str:
    """How a typed cell is written in a text file."""
    if isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime):
        return _moment(value)
    if isinstance(value, date | time):
        return value.isoformat() if isinstance(value, date) else value.strftime("%H:%M:%S")
    if isinstance(value, timedelta):
        return _duration(value)
    if isinstance(value, float):
        return "" if value != value else _number(value)
    return "" if value is None else str(value)


def _moment(value: datetime) -> str:
    if value.time() == time():
        return value.date().isoformat()
    return value.isoformat(timespec="seconds")


def _duration(value: timedelta) -> str:
    seconds = round(value.total_seconds())
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def _number(value: float) -> str:
    return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)


def _sheet(
    text: pd.DataFrame, title: str, to: Path, base: Table, contracts: Mapping[str, Contract]
) -> Table:
    """The sheet as a text file of its own, each row with its number in the sheet."""
    header = [one.strip() for one in text.iloc[0]]
    while header and not header[-1]:
        header.pop()
    rows = text.iloc[1:, : len(header)]
    rows = rows[(rows != "").any(axis=1)]
    feed = (
        base.feed
        or feed_of(title, header, contracts)
        or feed_of(Path(base.file_name).stem, header, contracts)
    )
    findings: tuple[Finding, ...] = (generic("unknown_feed", base.file_name, line=1),)
    if feed:
        findings = header_findings(header, contracts[feed], base.file_name)
        if not findings and rows.empty:
            findings = (generic("empty_file", base.file_name),)
    columns = [f"c{number}" for number in range(len(header))]
    numbered = rows.set_axis(columns, axis=1).assign(**{LINE_COLUMN: rows.index + 1})
    numbered.to_csv(to, index=False, encoding="utf-8", lineterminator="\n")
    return Table(
        feed, base.file_name, base.file_hash, to, ",", (*header, LINE_COLUMN),
        line_column=LINE_COLUMN, findings=findings,
    )  # fmt: skip


def _without_notes(tables: list[Table]) -> list[Table]:
    """Sheets that are no table of ours (notes, lists) are passed by, if another sheet is one."""
    ours = [one for one in tables if one.feed]
    return ours or tables


def _formulas(path: Path) -> dict[str, list[tuple[int, int]]]:
    """Where formulas stand: sheet title -> (row, column), both counted from 0."""
    if path.suffix.lower() not in (".xlsx", ".xlsm"):
        return {}
    found = {}
    with zipfile.ZipFile(path) as book:
        for title, part in _parts(book).items():
            cells = _FORMULA.findall(book.read(part))
            found[title] = [(int(row) - 1, _column(letters)) for letters, row in cells]
    return found


def _parts(book: zipfile.ZipFile) -> dict[str, str]:
    """Sheet title -> name of its part in the book's zip."""
    names = set(book.namelist())
    if not {"xl/workbook.xml", "xl/_rels/workbook.xml.rels"} <= names:
        return {}
    relations = ElementTree.fromstring(book.read("xl/_rels/workbook.xml.rels"))  # noqa: S314
    targets = {one.get("Id", ""): one.get("Target", "") for one in relations}
    parts = {}
    for element in ElementTree.fromstring(book.read("xl/workbook.xml")).iter():  # noqa: S314
        if element.tag.endswith("}sheet"):
            target = targets.get(element.get(_RELATION, ""), "")
            part = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
            if part in names:
                parts[element.get("name", "")] = part
    return parts


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number - 1
