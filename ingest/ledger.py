"""The ledger: what came in, what became of it, row by row."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import duckdb

from ingest.compile_sql import name
from ingest.contracts import Contract
from ingest.errors import Problem
from ingest.ledger_store import open_store, reading

__all__ = [
    "Counts",
    "FileEntry",
    "been_here",
    "earlier",
    "mark_corrected",
    "next_file_number",
    "open_store",
    "reading",
    "record_bundle",
    "record_file",
    "record_findings",
    "record_quarantine",
]


# The columns of `ledger.files`, in its order.
_OF_A_FILE = (
    "file_number", "file_hash", "file_name", "feed", "received_at", "contract_version", "status",
)  # fmt: skip
_COUNTS = ("received", "accepted", "known", "quarantined", "refused", "warnings")


@dataclass(frozen=True)
class Counts:
    """What became of the rows of one file; the sum must hold, here and in the database."""

    received: int = 0
    accepted: int = 0
    known: int = 0
    quarantined: int = 0
    refused: int = 0
    warnings: int = 0

    def __post_init__(self) -> None:
        kept = self.accepted + self.known + self.quarantined + self.refused
        if (
            kept != self.received
            or min(self.accepted, self.known, self.quarantined, self.refused) < 0
        ):
            raise Problem(
                "The rows of a file do not add up, so nothing of it was kept.",
                rule=f"received = accepted + known + set aside + refused, but {self}",
                remedy="this is a fault of the program: keep the file and report it",
            )


@dataclass(frozen=True)
class FileEntry:
    """One line of `ledger.files`."""

    file_number: int
    file_hash: str
    file_name: str
    feed: str
    received_at: datetime
    contract_version: str
    status: str
    counts: Counts


def next_file_number(con: duckdb.DuckDBPyConnection) -> int:
    """The number of the file that is about to come in."""
    row = con.execute("select coalesce(max(file_number), 0) + 1 from ledger.files").fetchone()
    return int(row[0]) if row else 1


def earlier(con: duckdb.DuckDBPyConnection, file_hash: str, feed: str) -> Counts | None:
    """The counts of an earlier load of the same bytes, if nothing of it is still held or refused.

    Files of which rows are still set aside are looked at again: what they waited for may be here.
    """
    row = con.execute(
        """
        select received_count
        from ledger.files
        where file_hash = $file_hash and feed = $feed and status <> 'refused'
            and not exists (
                select 1 from ledger.quarantine as held
                where held.file_hash = $file_hash and held.feed = $feed and held.status = 'held'
            )
        order by file_number desc
        limit 1
        """,
        {"file_hash": file_hash, "feed": feed},
    ).fetchone()
    return Counts(received=row[0], known=row[0]) if row else None


def record_file(con: duckdb.DuckDBPyConnection, entry: FileEntry) -> None:
    """Write the file's line; from here on its rows can be seen."""
    row = [getattr(entry, one) for one in _OF_A_FILE]
    row += [getattr(entry.counts, one) for one in _COUNTS]
    con.execute(f"insert into ledger.files values ({', '.join('?' for _ in row)})", row)


def been_here(
    con: duckdb.DuckDBPyConnection, feed: str, file_hashes: Sequence[str]
) -> frozenset[str]:
    """Which of these bytes the ledger has met as this feed, whatever became of them."""
    found = con.execute(
        "select distinct file_hash from ledger.files "
        "where feed = $feed and list_contains($hashes, file_hash)",
        {"feed": feed, "hashes": list(file_hashes)},
    )
    return frozenset(row[0] for row in found.fetchall())


def record_bundle(con: duckdb.DuckDBPyConnection, entries: Sequence[FileEntry]) -> None:
    """Write the lines of files that are new here, and temp table `bundle_marks` as their findings.

    In one statement: one for each file would cost more than to check them all.
    """
    columns = [[getattr(one, column) for one in entries] for column in _OF_A_FILE] + [
        [getattr(one.counts, column) for one in entries] for column in _COUNTS
    ]
    unnested = ", ".join(f"unnest(${number})" for number in range(1, len(columns) + 1))
    con.execute(f"insert into ledger.files select {unnested}", columns)
    con.execute(
        """
        insert into ledger.findings
        select files.file_hash, files.feed, files.file_name, line_number, column_name, rule_name,
            verdict, message, remedy
        from bundle_marks
        inner join ledger.files as files using (file_number)
        order by file_number, line_number nulls first, rule_name
        """
    )


def record_findings(
    con: duckdb.DuckDBPyConnection, file_hash: str, feed: str, file_name: str
) -> None:
    """Copy the marks of the file (see `ingest.check`) into the ledger, in place of older ones.

    Rows held since an earlier load keep their reasons: they are not looked at a second time.
    """
    where = {"file_hash": file_hash, "feed": feed, "file_name": file_name}
    con.execute(
        """
        delete from ledger.findings
        where file_hash = $file_hash and feed = $feed and file_name = $file_name
            and (
                line_number is null
                or line_number in (select line_number from marks where line_number is not null)
                or line_number not in (
                    select line_number from ledger.quarantine
                    where file_hash = $file_hash and feed = $feed and file_name = $file_name
                        and status = 'held' and line_number is not null
                )
            )
        """,
        where,
    )
    con.execute(
        """
        insert into ledger.findings
        select $file_hash, $feed, $file_name, line_number, column_name, rule_name, verdict,
            message, remedy
        from marks
        order by line_number nulls first, rule_name
        """,
        where,
    )


def record_quarantine(
    con: duckdb.DuckDBPyConnection, file_hash: str, feed: str, file_name: str, at: datetime
) -> None:
    """Keep the rows of temp table `aside` until someone corrects or releases them."""
    con.execute(
        """
        insert into ledger.quarantine
        select $file_hash, $feed, $file_name, line_number, row_json, rule_names, can_release,
            'held', $at, null, null
        from aside
        order by line_number
        """,
        {"file_hash": file_hash, "feed": feed, "file_name": file_name, "at": at},
    )


def mark_corrected(
    con: duckdb.DuckDBPyConnection, contract: Contract, accepted: str, at: datetime
) -> None:
    """Close held rows whose key has now come in with a row that passed; `accepted` is a query."""
    keys = " and ".join(
        f"trim(held.row_json ->> '$.{one}') = cast(accepted.{name(one)} as varchar)"
        for one in contract.primary_key
    )
    con.execute(
        f"""
        update ledger.quarantine as held
        set status = 'corrected', decided_at = $at
        from ({accepted}) as accepted
        where held.feed = $feed and held.status = 'held' and {keys}
        """,
        {"feed": contract.name, "at": at},
    )
