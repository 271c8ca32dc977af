"""The landing store and its ledger: what came in, what became of it, row by row.

A row of a feed exists only once its file stands in the ledger: the views look no further than the
highest file number there. So rules can read what was there before while a file is on its way in,
and a load that is cut short leaves nothing to see.
"""

import hashlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import duckdb

from ingest.compile_sql import equal, name, names
from ingest.contracts import Contract
from ingest.contracts.model import VOIDED, Field
from ingest.errors import Busy, Problem

LINEAGE = ("file_hash", "row_hash", "received_at", "contract_version", "row_version")
_LINEAGE_DDL = """
    file_hash varchar not null,
    row_hash uhugeint not null,
    received_at timestamptz not null,
    contract_version varchar not null,
    row_version integer not null,"""
_SETTINGS = {
    "autoinstall_known_extensions": "false",
    "autoload_known_extensions": "false",
    "memory_limit": "1200MB",
    # The order of the rows is how a line number is known without being counted.
    "preserve_insertion_order": "true",
}
_LEDGER_DDL = """
create schema if not exists store;
create schema if not exists newest;
create schema if not exists feed;
create schema if not exists latest;
create schema if not exists names;
create schema if not exists latest_names;
create schema if not exists ledger;
create table if not exists ledger.files (
    file_number bigint primary key,
    file_hash varchar not null,
    file_name varchar not null,
    feed varchar not null,
    received_at timestamptz not null,
    contract_version varchar not null,
    status varchar not null check (status in ('loaded', 'refused', 'already_known')),
    received_count bigint not null,
    accepted_count bigint not null,
    known_count bigint not null,
    quarantined_count bigint not null,
    refused_count bigint not null,
    warning_count bigint not null,
    check (least(received_count, accepted_count, known_count, quarantined_count, refused_count) >= 0),
    check (received_count = accepted_count + known_count + quarantined_count + refused_count),
);
create table if not exists ledger.findings (
    file_hash varchar not null,
    feed varchar not null,
    file_name varchar not null,
    line_number bigint,
    column_name varchar,
    rule_name varchar not null,
    verdict varchar not null,
    message varchar not null,
    remedy varchar not null,
);
create table if not exists ledger.quarantine (
    file_hash varchar not null,
    feed varchar not null,
    file_name varchar not null,
    line_number bigint,
    row_json varchar not null,
    rule_names varchar[] not null,
    can_release boolean not null,
    status varchar not null check (status in ('held', 'released', 'corrected')),
    received_at timestamptz not null,
    decided_at timestamptz,
    decided_by varchar,
);
create table if not exists ledger.store_shape (digest varchar not null);
"""


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


@contextmanager
def open_store(
    path: Path, contracts: Mapping[str, Contract], scratch: Path
) -> Iterator[duckdb.DuckDBPyConnection]:
    """Open the landing store for writing, made or brought up to the contracts if need be.

    Raises `Busy` when another command has it open, `Problem` when it cannot be opened.
    """
    con = _connect(path, scratch)
    try:
        _prepare(con, contracts)
        yield con
    finally:
        con.close()


@contextmanager
def reading(path: Path) -> Iterator[duckdb.DuckDBPyConnection]:
    """Open the landing store for reading only; writers wait outside. Raises like `open_store`."""
    con = _connect(path, None)
    try:
        yield con
    finally:
        con.close()


def _connect(path: Path, scratch: Path | None) -> duckdb.DuckDBPyConnection:
    place = {"temp_directory": str(scratch)} if scratch else {}
    try:
        con = duckdb.connect(str(path), read_only=scratch is None, config={**_SETTINGS, **place})
    except duckdb.IOException as fault:
        if "lock" in str(fault).lower() or "being used by another process" in str(fault):
            raise Busy(
                "Another command is writing to this workspace.",
                where=path.name,
                rule="one writer at a time keeps the ledger in balance",
                remedy="wait until it has finished, then try again",
            ) from fault
        raise _unusable(path, fault) from fault
    except duckdb.Error as fault:
        raise _unusable(path, fault) from fault
    con.execute("set TimeZone = 'UTC'")
    return con


def _unusable(path: Path, fault: Exception) -> Problem:
    return Problem(
        "The landing store cannot be opened.",
        where=str(path),
        rule=str(fault).splitlines()[0],
        remedy="check that the disk has room and the folder may be written; then restore a copy",
    )


def _prepare(con: duckdb.DuckDBPyConnection, contracts: Mapping[str, Contract]) -> None:
    """Create what is missing, once for each state of the contracts."""
    statements = [_LEDGER_DDL, *(sql for one in contracts.values() for sql in feed_ddl(one))]
    digest = hashlib.sha256("\n".join(statements).encode()).hexdigest()
    known = con.execute(
        "select count(*) from information_schema.tables where table_name = 'store_shape'"
    ).fetchone()
    if known and known[0]:
        row = con.execute("select digest from ledger.store_shape").fetchone()
        if row and row[0] == digest:
            return
    con.execute("begin")
    con.execute(_LEDGER_DDL)
    for contract in contracts.values():
        for statement in feed_ddl(contract):
            con.execute(statement)
    con.execute("delete from ledger.store_shape")
    con.execute("insert into ledger.store_shape values (?)", [digest])
    con.execute("commit")


def feed_ddl(contract: Contract) -> list[str]:
    """Tables and views of one feed; columns that a newer contract adds are added."""
    table = f"store.{name(contract.name)}"
    newest = f"newest.{name(contract.name)}"
    statements = [
        f"create table if not exists {table} ({_columns(contract.public_fields)}"
        f"{_LINEAGE_DDL}\n    file_number bigint not null,\n    source_line bigint,\n"
        "    set_aside varchar,\n);",
        f"create table if not exists {newest} ({_columns(_key(contract))}"
        "\n    row_version integer not null,\n);",
    ]
    statements += [
        f"alter table {table} add column if not exists {name(one.name)} {one.sql_type}"
        for one in contract.public_fields
        if one.name not in contract.primary_key
    ]
    statements += _views(
        contract, "feed", "latest", table, contract.public_fields, "set_aside is null"
    )
    if contract.private_fields:
        own = f"names.{name(contract.name)}"
        fields = (*_key(contract), *contract.private_fields)
        statements.append(
            f"create table if not exists {own} ({_columns(fields)}"
            f"{_LINEAGE_DDL}\n    file_number bigint not null,\n);"
        )
        statements += _views(contract, "", "latest_names", own, fields, "true")
    return statements


def _key(contract: Contract) -> tuple[Field, ...]:
    return tuple(contract.field(one) for one in contract.primary_key)


def _columns(fields: tuple[Field, ...]) -> str:
    return "".join(f"\n    {name(one.name)} {one.sql_type}," for one in fields)


def _views(
    contract: Contract, whole: str, latest: str, table: str, fields: tuple[Field, ...], kept: str
) -> list[str]:
    """`whole` shows every version that stands in the ledger, `latest` the newest not voided."""
    feed = name(contract.name)
    columns = names([*(one.name for one in fields), *LINEAGE], "rows_in.")
    seen = f"{kept} and file_number <= (select coalesce(max(file_number), 0) from ledger.files)"
    voided = any(one.name == VOIDED for one in contract.fields) and latest == "latest"
    not_voided = f" and rows_in.{VOIDED} is not true" if voided else ""
    statements = []
    if whole:
        statements.append(
            f"create or replace view {whole}.{feed} as\n"
            f"select {columns} from {table} as rows_in where {seen}"
        )
    statements.append(
        f"create or replace view {latest}.{feed} as\nselect {columns}\nfrom {table} as rows_in\n"
        f"left join newest.{feed} as newer on {equal(contract.primary_key, 'rows_in', 'newer')}\n"
        f"where {seen} and (newer.row_version is null or newer.row_version = rows_in.row_version)"
        f"{not_voided}"
    )
    return statements


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
    counts = entry.counts
    con.execute(
        "insert into ledger.files values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        [
            entry.file_number, entry.file_hash, entry.file_name, entry.feed, entry.received_at,
            entry.contract_version, entry.status, counts.received, counts.accepted, counts.known,
            counts.quarantined, counts.refused, counts.warnings,
        ],
    )  # fmt: skip


def record_findings(
    con: duckdb.DuckDBPyConnection, file_hash: str, feed: str, file_name: str
) -> None:
    """Copy the marks of the file (see `ingest.check`) into the ledger, in place of older ones."""
    where = {"file_hash": file_hash, "feed": feed, "file_name": file_name}
    con.execute(
        "delete from ledger.findings where file_hash = $file_hash and feed = $feed "
        "and file_name = $file_name",
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


@dataclass(frozen=True)
class HeldFile:
    """A file of which rows are held that a person may let in."""

    file_hash: str
    feed: str
    file_name: str
    file_number: int


@dataclass(frozen=True)
class Choice:
    """Which held rows are meant: all of them, or those of a file, a feed, a rule, certain lines."""

    file_name: str | None = None
    feed: str | None = None
    rule: str | None = None
    lines: tuple[int, ...] = ()


def choose_held(con: duckdb.DuckDBPyConnection, choice: Choice) -> tuple[list[HeldFile], int]:
    """Put the chosen rows that may be released into temp table `chosen`; their files, and how many
    chosen rows only a correction can let in."""
    con.execute(
        """
        create or replace temp table chosen as
        select rowid as held_row, file_hash, feed, file_name, line_number, row_json, can_release
        from ledger.quarantine
        where status = 'held'
            and ($file_name is null or file_name = $file_name)
            and ($feed is null or feed = $feed)
            and ($rule is null or list_contains(rule_names, $rule))
            and (len($lines) = 0 or list_contains($lines, line_number))
        """,
        {
            "file_name": choice.file_name,
            "feed": choice.feed,
            "rule": choice.rule,
            "lines": list(choice.lines),
        },
    )
    row = con.execute("select count(*) from chosen where not can_release").fetchone()
    files = con.execute(
        """
        select chosen.file_hash, chosen.feed, chosen.file_name, max(files.file_number)
        from chosen
        inner join ledger.files as files on chosen.file_hash = files.file_hash
            and chosen.feed = files.feed and chosen.file_name = files.file_name
        where chosen.can_release
        group by all
        order by max(files.file_number)
        """
    ).fetchall()
    return [HeldFile(*one) for one in files], int(row[0]) if row else 0


def mark_released(con: duckdb.DuckDBPyConnection, held: HeldFile, at: datetime, by: str) -> None:
    """Close the chosen rows of one file, with who decided and when."""
    con.execute(
        """
        update ledger.quarantine
        set status = 'released', decided_at = $at, decided_by = $by
        where rowid in (
            select held_row from chosen
            where can_release and file_hash = $file_hash and feed = $feed
                and file_name = $file_name
        )
        """,
        {
            "at": at,
            "by": by,
            "file_hash": held.file_hash,
            "feed": held.feed,
            "file_name": held.file_name,
        },
    )
