"""Writes one published table of the current build as CSV, XLSX, Parquet or JSON.

Rows are ordered by their first columns (keys and dates), never by a figure. In CSV and XLSX a text
that a spreadsheet would take for a formula gets an apostrophe before it.
"""

import csv
import difflib
import json
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import duckdb
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.worksheet._write_only import WriteOnlyWorksheet

from ingest.errors import UsageProblem
from ingest.snapshot import Snapshot

CAUTION = (
    "These figures describe teaching and classrooms. They do not diagnose, rate or predict a "
    "child, and are not for appraising, paying or disciplining staff or for sanctioning pupils. "
    "Figures are estimates and small differences usually mean nothing; 'thin' means too little to "
    "say; missing is not zero; withheld figures are about too few people to be shown."
)
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
_BATCH = 5000
_SHEET_ROWS = 1_048_576


@dataclass(frozen=True)
class Exported:
    """What was written: the file, its notes (none when they are inside), and the row count."""

    file: Path
    notes: Path | None
    row_count: int


def write(snapshot: Snapshot, table: str, audience: str, to: Path) -> Exported:
    """Write `table` of `audience` to the file `to`; the ending says the form.

    `UsageProblem` names the nearest table or the known endings when one is not known.
    """
    counts = snapshot.tables(_known(audience, snapshot.told["audiences"], "audience"))
    _known(table, counts, "table")
    form = _known(to.suffix.lower().removeprefix("."), WRITERS, "form")
    to.parent.mkdir(parents=True, exist_ok=True)
    file = snapshot.folder / f"{audience}.duckdb"
    notes = _notes(snapshot, table, audience)
    with closing(duckdb.connect(file, read_only=True)) as connection:
        rows = Rows(connection, f'select * from "{table}" order by all')
        row_count = WRITERS[form](rows, to, notes)
    if form == "xlsx":
        return Exported(to, None, row_count)
    beside = to.with_name(f"{to.stem}.README.txt")
    beside.write_text("\n".join(f"{name}: {text}" for name, text in notes) + "\n", "utf-8")
    return Exported(to, beside, row_count)


def tables(snapshot: Snapshot, audience: str) -> list[dict[str, Any]]:
    """The tables of one audience: name, number of rows, what it is."""
    counts = snapshot.tables(_known(audience, snapshot.told["audiences"], "audience"))
    about = snapshot.told.get("about", {})
    return [
        {"table": name, "row_count": count, "about": about.get(name, "")}
        for name, count in counts.items()
    ]


def guarded(value: object) -> object:
    """A text that a spreadsheet would run as a formula, made plain; anything else as it is."""
    if isinstance(value, str) and value.startswith(_FORMULA_STARTS):
        return f"'{value}"
    return value


def _known(name: str, known: Mapping[str, Any], kind: str) -> str:
    if name in known:
        return name
    near = difflib.get_close_matches(name, list(known), n=1)
    raise UsageProblem(
        f"There is no {kind} '{name}' to export.",
        rule=f"known are: {', '.join(sorted(known))}",
        remedy=f"did you mean {near[0]}?" if near else "choose one of these",
    )


def _notes(snapshot: Snapshot, table: str, audience: str) -> list[tuple[str, str]]:
    told = snapshot.told
    return [
        ("Table", table),
        ("What it is", str(told.get("about", {}).get(table, ""))),
        ("For", audience),
        ("School", str(told["school_name"])),
        ("As of", str(told["as_of_on"])),
        ("Build", snapshot.build_id),
        ("Please note", CAUTION),
    ]


@dataclass(frozen=True)
class Rows:
    """The rows of a query; a batch at a time, so that a long table needs little memory."""

    connection: duckdb.DuckDBPyConnection
    query: str

    @property
    def columns(self) -> list[str]:
        """The column names in order."""
        return list(self.connection.sql(self.query).columns)

    def __iter__(self) -> Iterator[tuple[Any, ...]]:
        result = self.connection.execute(self.query)
        while batch := result.fetchmany(_BATCH):
            yield from batch


Notes = Sequence[tuple[str, str]]


def _write_csv(rows: Rows, to: Path, notes: Notes) -> int:
    """RFC 4180: commas, quotes where needed, CRLF, a header, UTF-8; missing is empty."""
    with to.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\r\n")
        writer.writerow(rows.columns)
        return sum(writer.writerow([_text(guarded(value)) for value in row]) > 0 for row in rows)


def _text(value: object) -> object:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and not math.isfinite(value):
        return ""
    if isinstance(value, list | tuple):
        return guarded(";".join(str(part) for part in value))
    if isinstance(value, date | datetime | time):
        return value.isoformat()
    return value


def _write_xlsx(rows: Rows, to: Path, notes: Notes) -> int:
    book = Workbook(write_only=True)
    sheet = book.create_sheet("data")
    sheet.append(rows.columns)
    count = 0
    for row in rows:
        count += 1
        _must_fit(count)
        sheet.append([_cell(sheet, value) for value in row])
    about = book.create_sheet("please read")
    for name, text in notes:
        about.append([name, str(guarded(text))])
    book.save(to)
    return count


def _must_fit(count: int) -> None:
    if count >= _SHEET_ROWS:
        raise UsageProblem(
            "This table is too long for a spreadsheet.",
            rule=f"a sheet holds {_SHEET_ROWS} lines",
            remedy="export it as .csv or .parquet",
        )


def _cell(sheet: WriteOnlyWorksheet, value: object) -> object:
    """A value as a cell; text is marked as text, so that nothing takes it as more."""
    if isinstance(value, bool | int | float | date | None) and not _has_zone(value):
        return value
    cell = WriteOnlyCell(sheet, value=str(guarded(_text(value))))
    cell.data_type = "s"
    return cell


def _has_zone(value: object) -> bool:
    return isinstance(value, datetime) and value.tzinfo is not None


def _write_parquet(rows: Rows, to: Path, notes: Notes) -> int:
    import pyarrow.parquet  # loaded here: half a second that the other forms need not wait

    table: pyarrow.Table = rows.connection.sql(rows.query).to_arrow_table()
    kept = {name.encode(): text.encode() for name, text in notes}
    pyarrow.parquet.write_table(table.replace_schema_metadata(kept), to)
    return int(table.num_rows)


def _write_json(rows: Rows, to: Path, notes: Notes) -> int:
    names = rows.columns
    objects = [
        {name: _plain(value) for name, value in zip(names, row, strict=True)} for row in rows
    ]
    text = json.dumps(objects, ensure_ascii=False, indent=1, allow_nan=False)
    to.write_text(text + "\n", encoding="utf-8")
    return len(objects)


def _plain(value: object) -> object:
    """A value that JSON has; numbers that are none become null."""
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, bool | int | str | list | None):
        return value
    return str(_text(value))


WRITERS: Mapping[str, Callable[[Rows, Path, Notes], int]] = {
    "csv": _write_csv,
    "xlsx": _write_xlsx,
    "parquet": _write_parquet,
    "json": _write_json,
}
