"""The rows of many small files into the landing store together, each still told by its file.

Temp table `bundle_rows` says of every row which file it is from (`file_number`, `source_line`: the
file's place in the bundle) and its line there (`clerk_line`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import duckdb

from ingest import land
from ingest.check_keys import files_of_names
from ingest.check_marks import Intake
from ingest.compile_sql import equal
from ingest.contracts import Contract
from ingest.readers.table import Table

_READ = "bundle_read"


@dataclass(frozen=True)
class Share:
    """What one file of a bundle brought, and how much of it was here before."""

    file_number: int
    received: int
    known: int


def read_bundle(
    con: duckdb.DuckDBPyConnection, contract: Contract, table: Table, query: str
) -> Intake:
    """Read the files; nothing is written to the store. Raises `duckdb.Error` for a bad form."""
    con.execute(f"create or replace temp table {_READ} as {query}")
    count = con.execute(f"select count(*), min(rowid) from {_READ}").fetchone()
    received, first_row = count or (0, 0)
    return Intake(contract, table, _READ, "true", first_row or 0, received)


def to_go_alone(con: duckdb.DuckDBPyConnection, read: Intake) -> set[int]:
    """Files that are no company for the others: with a row that is not good by itself, with names
    for keys, without a row, or with a key that an earlier file of the bundle has. Needs `judge`."""
    keys = read.contract.primary_key
    line = read.line("kept")
    found = con.execute(
        f"""
        select source_line from {_READ} as kept
        where {line} in (select line_number from single_aside)
        union
        select later.source_line from {_READ} as later
        inner join {_READ} as before on {equal(keys, "later", "before")}
            and before.source_line < later.source_line
        union
        select place from range(1, {len(read.table.parts)} + 1) as places (place)
        anti join {_READ} on place = source_line
        """
    )
    return {row[0] for row in found.fetchall()} | set(files_of_names(con, read))


def gather(
    con: duckdb.DuckDBPyConnection, read: Intake, places: Sequence[int], first_number: int
) -> Intake:
    """The rows of the files at these places of the bundle as the intake that is checked."""
    con.execute("delete from single_aside")
    con.execute(
        f"create or replace temp table intake as select * from {_READ} "
        "where list_contains($places, source_line)",
        {"places": list(places)},
    )
    count = con.execute("select count(*), min(rowid) from intake").fetchone()
    received, first_row = count or (0, 0)
    intake = Intake(read.contract, read.table, "intake", "true", first_row or 0, received)
    con.execute(
        f"""
        create or replace temp table bundle_rows as
        select {intake.line("kept")} as line_number, source_line,
            $first - 1 + list_position($places, source_line) as file_number,
            rowid - min(rowid) over (partition by source_line) + {read.table.first_line}
                as clerk_line
        from intake as kept
        """,
        {"places": list(places), "first": first_number},
    )
    return intake


def marked(con: duckdb.DuckDBPyConnection) -> set[int]:
    """The places of files with a row that is not taken as it is."""
    found = con.execute(
        "select distinct source_line from marks inner join bundle_rows using (line_number) "
        "where verdict in ('refuse', 'quarantine')"
    )
    return {row[0] for row in found.fetchall()}


def settle_bundle(con: duckdb.DuckDBPyConnection, intake: Intake) -> list[Share]:
    """Keep the rows, none of which is set aside; what each file brought, by its number."""
    con.execute("create or replace temp table gone as select line_number from known")
    land.keep_gathered(con, intake)
    found = con.execute(
        """
        select file_number, count(*), count(known.line_number)
        from bundle_rows
        left join (select distinct line_number from known) as known using (line_number)
        group by file_number
        order by file_number
        """
    )
    return [Share(*row) for row in found.fetchall()]


def show_files(con: duckdb.DuckDBPyConnection, last_number: int) -> None:
    """Temp table `bundle_marks`: what was found, by file and by the clerk's line.

    What is about no row is told with the last file of the bundle: it made them complete.
    """
    con.execute(
        f"""
        create or replace temp table bundle_marks as
        select coalesce(bundle_rows.file_number, {last_number}) as file_number,
            bundle_rows.clerk_line as line_number, marks.* exclude (line_number)
        from marks
        left join bundle_rows using (line_number)
        """
    )


def warnings(con: duckdb.DuckDBPyConnection) -> dict[int, int]:
    """How many warnings each file has that has any. Needs `bundle_marks`."""
    found = con.execute(
        "select file_number, count(*) from bundle_marks where verdict = 'warn' group by file_number"
    )
    return {row[0]: row[1] for row in found.fetchall()}


def findings(con: duckdb.DuckDBPyConnection, most: int) -> list[tuple[Any, ...]]:
    """At most so many findings of each file: its number, then the parts of a `Finding` without the
    file's name. Needs `bundle_marks`."""
    return con.execute(
        """
        select file_number, rule_name, verdict, min(line_number) as first_line, column_name, cell,
            message, remedy, count(*)
        from bundle_marks
        group by file_number, rule_name, verdict, column_name, cell, message, remedy
        qualify row_number() over (
            partition by file_number
            order by verdict = 'warn', first_line nulls first, column_name, rule_name
        ) <= $most
        order by file_number, verdict = 'warn', first_line nulls first, column_name, rule_name
        """,
        {"most": most},
    ).fetchall()
