"""The files of a OneRoster set as all-text DuckDB tables with the line number of every row.

One pass over the text finds rows that are no records and writes the columns that may be kept, so
that nothing else ever reaches the disk; everything after it is set-based.
"""

import csv
import io
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import IO

import duckdb

from ingest.findings import Finding
from ingest.readers.oneroster_files import StandardFile
from ingest.readers.oneroster_header import Header, check_header
from ingest.readers.oneroster_package import Package

LINE = "line_number"
_SHAPES = {
    "short_row": "has fewer fields than the header",
    "long_row": "has more fields than the header",
    "nul_byte": "holds a NUL byte, which no text has",
}


@dataclass(frozen=True)
class Member:
    """What was found while reading one file of the set into the table of its name."""

    file: StandardFile
    findings: tuple[Finding, ...]
    row_count: int

    @property
    def is_refused(self) -> bool:
        """Tell whether the file cannot be used."""
        return any(finding.verdict == "refuse" for finding in self.findings)


@dataclass
class _Pass:
    """What one pass over a file has seen so far: its records, and the lines that are none."""

    row_count: int = 0
    record_line: int = 1
    lines_of: dict[str, list[int]] = field(default_factory=dict)

    def note(self, rule: str, line: int) -> None:
        """Remember a line that is no record."""
        self.lines_of.setdefault(rule, []).append(line)


def load_member(
    connection: duckdb.DuckDBPyConnection, package: Package, file: StandardFile, scratch: Path
) -> Member:
    """Read one file of the set into a table of text named after it, with a `line_number`.

    The table has every column of the standard and our own extensions, those that were not sent or
    must not be kept as nulls; empty is null. A file that cannot be read is refused. The text that
    is written on the way is removed again.
    """
    shown = package.shown(file.name)
    copy = scratch / f"{file.name}.text.csv"
    seen = _Pass()
    header = Header((), ())
    faults: list[Finding] = []
    try:
        with zipfile.ZipFile(package.path) as archive:
            header = read_header(archive, package.members[file.name], shown, file)
            with archive.open(package.members[file.name]) as raw, _writing(copy) as out:
                _copy_rows(_text(raw), out, kept_positions(file, header.names), seen)
    except (zipfile.BadZipFile, RuntimeError, OSError, ValueError, csv.Error) as fault:
        faults.append(_unreadable(shown, seen, fault))
    faults += [_out_of_shape(shown, rule, lines) for rule, lines in seen.lines_of.items()]
    if header.is_refused or faults:
        empty_table(connection, file)
    else:
        _load(connection, file, header, copy)
    copy.unlink(missing_ok=True)
    return Member(file, (*header.findings, *faults), seen.row_count)


def empty_table(connection: duckdb.DuckDBPyConnection, file: StandardFile) -> None:
    """Create the table of a file that is not in the set, so that every statement finds it."""
    columns = ", ".join(f'"{name}" varchar' for name in all_columns(file))
    connection.execute(f'create or replace table "{file.name}" ({columns}, {LINE} bigint)')


def all_columns(file: StandardFile) -> list[str]:
    """Return the columns of a file's table: the standard's, then our own extensions."""
    return [*file.columns, *sorted(file.kept - set(file.columns))]


def read_header(archive: zipfile.ZipFile, member: str, shown: str, file: StandardFile) -> Header:
    """Read and check the first line of a member; an empty file misses every column."""
    with archive.open(member) as raw:
        return check_header(shown, next(csv.reader(_text(raw)), []), file)


def kept_positions(file: StandardFile, names: Sequence[str]) -> list[int]:
    """Return the positions of the columns that may be kept on disk."""
    return [position for position, name in enumerate(names) if name in file.kept]


def copy_columns(raw: IO[bytes], out: io.TextIOBase, positions: list[int]) -> None:
    """Copy some columns of a member, header and all, each row as it is."""
    writer = csv.writer(out, lineterminator="\n")
    for row in csv.reader(_text(raw)):
        writer.writerow([row[position] for position in positions if position < len(row)])


def _text(raw: IO[bytes]) -> io.TextIOWrapper:
    """Open bytes as UTF-8 text without a byte-order mark."""
    return io.TextIOWrapper(raw, encoding="utf-8-sig", newline="")


def _writing(path: Path) -> io.TextIOWrapper:
    """Open a scratch text for writing."""
    return path.open("w", encoding="utf-8", newline="")


def _copy_rows(
    text: io.TextIOWrapper, out: io.TextIOBase, positions: list[int], seen: _Pass
) -> None:
    """Write the kept columns of each record behind the line it begins on, and note the others.

    Empty lines are no records. Raises csv.Error at a quotation mark that is not closed.
    """

    def lines() -> Iterator[str]:
        for number, line in enumerate(text, start=1):
            if "\0" in line:
                seen.note("nul_byte", number)
            yield line

    reader = csv.reader(lines(), strict=True)
    writer = csv.writer(out, lineterminator="\n")
    width = len(next(reader, []))
    seen.record_line = reader.line_num + 1
    for row in reader:
        if row:
            seen.row_count += 1
            if len(row) == width:
                writer.writerow([seen.record_line, *[row[position] for position in positions]])
            else:
                seen.note("short_row" if len(row) < width else "long_row", seen.record_line)
        seen.record_line = reader.line_num + 1


def _load(
    connection: duckdb.DuckDBPyConnection, file: StandardFile, header: Header, copy: Path
) -> None:
    """Create the table of a file from its copied text."""
    names = [header.names[position] for position in kept_positions(file, header.names)]
    chosen = ", ".join(
        [f'nullif("{name}", \'\') as "{name}"' for name in names]
        + [f'null::varchar as "{name}"' for name in all_columns(file) if name not in names]
    )
    connection.execute(
        f'create or replace table "{file.name}" as select {chosen}, {LINE}::bigint as {LINE} '
        "from read_csv(?, delim=',', quote='\"', escape='\"', header=false, auto_detect=false, "
        "max_line_size=16777216, columns=?)",
        [str(copy), {LINE: "VARCHAR"} | {name: "VARCHAR" for name in names}],
    )


def _out_of_shape(shown: str, rule: str, lines: list[int]) -> Finding:
    """Refuse a file with a row that is no record: a roster with holes would end memberships."""
    others = "" if len(lines) == 1 else f" So do {len(lines) - 1} more lines."
    return Finding(
        rule=rule,
        verdict="refuse",
        file_name=shown,
        line=lines[0],
        column=None,
        value=None,
        message=f"Line {lines[0]} {_SHAPES[rule]}.{others}",
        remedy="Ask for the file again, with every field of a record and commas only in quotes.",
        count=len(lines),
    )


def _unreadable(shown: str, seen: _Pass, fault: Exception) -> Finding:
    """Refuse a member that is not UTF-8 text, has an open quote, is locked or is damaged."""
    found = Finding(
        rule="oneroster_unreadable",
        verdict="refuse",
        file_name=shown,
        line=None,
        column=None,
        value=None,
        message=f"The file cannot be taken out of the zip: {fault}.",
        remedy="Ask for the zip again, without a password.",
    )
    if isinstance(fault, UnicodeError):
        return replace(
            found,
            rule="wrong_encoding",
            line=seen.record_line,
            message=f"The file is not UTF-8 text at or after line {seen.record_line}.",
            remedy="Ask for the file in UTF-8.",
        )
    if isinstance(fault, csv.Error):
        return replace(
            found,
            rule="unclosed_quote",
            line=seen.record_line,
            message=f"The record on line {seen.record_line} has a quotation mark out of place.",
            remedy="Ask for the file again: quotes around whole fields, doubled inside them.",
        )
    return found
