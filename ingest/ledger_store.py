"""The landing store's file: opened by one writer at a time, its tables made from the contracts.

A row of a feed exists only once its file stands in the ledger: the views join the two. So rules
can read what was there before while a file is on its way in, and a load that is cut short leaves
nothing to see.
"""

import hashlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import duckdb

from ingest.compile_sql import equal, name, names
from ingest.contracts import Contract
from ingest.contracts.model import VOIDED, Field
from ingest.errors import Busy, Problem

LINEAGE = ("file_hash", "row_hash", "received_at", "contract_version", "row_version")
# What all rows of a file share stands in the ledger once: the views join it. A row is found there
# by the number of its file.
_LINEAGE_DDL = """
    row_hash uhugeint not null,
    row_version integer not null,
    file_number bigint not null,"""
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
    check (least(accepted_count, known_count, quarantined_count, refused_count) >= 0),
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
        f"{_LINEAGE_DDL}\n"
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
        statements.append(f"create table if not exists {own} ({_columns(fields)}{_LINEAGE_DDL}\n);")
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
    own = names([one.name for one in fields], "rows_in.")
    columns = (
        f"{own}, files.file_hash, rows_in.row_hash, files.received_at, files.contract_version, "
        "rows_in.row_version"
    )
    seen = f"from {table} as rows_in\ninner join ledger.files as files using (file_number)"
    voided = any(one.name == VOIDED for one in contract.fields) and latest == "latest"
    not_voided = f" and rows_in.{VOIDED} is not true" if voided else ""
    statements = []
    if whole:
        statements.append(
            f"create or replace view {whole}.{feed} as\nselect {columns}\n{seen}\nwhere {kept}"
        )
    statements.append(
        f"create or replace view {latest}.{feed} as\nselect {columns}\n{seen}\n"
        f"left join newest.{feed} as newer on {equal(contract.primary_key, 'rows_in', 'newer')}\n"
        f"where {kept} and (newer.row_version is null or newer.row_version = rows_in.row_version)"
        f"{not_voided}"
    )
    return statements
