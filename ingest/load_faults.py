"""What DuckDB says when a file or the disk will not do, told in a clerk's words."""

import re

import duckdb

from ingest.errors import Problem
from ingest.findings import Finding, generic
from ingest.readers.table import Table

_DISK = ("no space left", "disk full", "file too large", "could not write", "max_temp_directory")
_LINE = re.compile(r"CSV Error on Line: (\d+)")
_FORM = (duckdb.InvalidInputException, duckdb.ConversionException, duckdb.IOException)


def finding_of(fault: duckdb.Error, table: Table) -> Finding | None:
    """The finding for a file that DuckDB cannot read, None when the file is not at fault."""
    said = str(fault).lower()
    if not isinstance(fault, _FORM) or is_about_disk(fault):
        return None
    place = _LINE.search(str(fault))
    line = int(place.group(1)) if place and table.line_column is None else None
    if "invalid unicode" in said or "not utf-8" in said:
        return generic("wrong_encoding", table.file_name, line=line)
    if "unterminated quote" in said or "quote found" in said:
        return generic("unclosed_quote", table.file_name, line=line)
    first = str(fault).splitlines()[0]
    return generic("unreadable_file", table.file_name, detail=first)


def is_about_disk(fault: Exception) -> bool:
    """Whether a failure says that there is no room to write."""
    said = str(fault).lower()
    return any(word in said for word in _DISK)


def is_about_room(fault: Exception) -> bool:
    """Whether there is no room to work, on the disk or in memory, whichever file it is."""
    return isinstance(fault, duckdb.OutOfMemoryException) or is_about_disk(fault)


def problem_of(fault: duckdb.Error, table: Table) -> Problem:
    """The problem to raise when something other than the file is at fault; nothing was kept."""
    if is_about_room(fault):
        return Problem(
            "There is no room left to load this file; nothing of it was kept.",
            where=table.file_name,
            rule=str(fault).splitlines()[0],
            remedy="free some disk space, then load the file again",
        )
    return Problem(
        "A check could not be carried out; nothing of this file was kept.",
        where=f"{table.file_name} ({table.feed})",
        rule=str(fault).splitlines()[0],
        remedy="this is a fault of the program: keep the file and report it",
    )
