"""A small landing store made from rows given as dictionaries, in the shape that ingest writes.

Tables and types come from the contracts, so that a field added there is a column here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import duckdb
import yaml

ROOT = Path(__file__).resolve().parents[2]
FEEDS = ROOT / "ingest" / "contracts" / "feeds"
Rows = Sequence[Mapping[str, Any]]

TYPES = {
    "string": "VARCHAR",
    "integer": "BIGINT",
    "number": "DOUBLE",
    "date": "DATE",
    "time": "TIME",
    "datetime": "TIMESTAMPTZ",
    "boolean": "BOOLEAN",
}
LINEAGE = (
    "file_hash VARCHAR DEFAULT 'test', row_hash UHUGEINT DEFAULT 0,"
    " received_at TIMESTAMPTZ DEFAULT '2025-09-01 06:00:00+00',"
    " contract_version VARCHAR DEFAULT '1', row_version INTEGER DEFAULT 1"
)
LEDGER = (
    "create table ledger.files (file_number BIGINT, file_hash VARCHAR, file_name VARCHAR,"
    " feed VARCHAR,"
    " received_at TIMESTAMPTZ, contract_version VARCHAR, status VARCHAR, received_count BIGINT,"
    " accepted_count BIGINT, known_count BIGINT, quarantined_count BIGINT, refused_count BIGINT,"
    " warning_count BIGINT)",
    "create table ledger.findings (file_hash VARCHAR, feed VARCHAR, file_name VARCHAR,"
    " line_number BIGINT, column_name VARCHAR, rule_name VARCHAR, verdict VARCHAR,"
    " message VARCHAR, remedy VARCHAR)",
    "create table ledger.quarantine (file_hash VARCHAR, feed VARCHAR, file_name VARCHAR,"
    " line_number BIGINT, row_json VARCHAR, rule_names VARCHAR[], can_release BOOLEAN,"
    " status VARCHAR, received_at TIMESTAMPTZ, decided_at TIMESTAMPTZ, decided_by VARCHAR)",
)


@cache
def contracts() -> dict[str, dict[str, Any]]:
    """Every contract by feed name."""
    loaded = (yaml.safe_load(path.read_text("utf-8")) for path in sorted(FEEDS.glob("*.yml")))
    return {contract["name"]: contract for contract in loaded}


def _columns(feed: str, private: bool) -> list[str]:
    contract = contracts()[feed]
    keys = contract["schema"]["primaryKey"]
    kept = [
        field
        for field in contract["schema"]["fields"]
        if bool(field.get("private")) == private or (private and field["name"] in keys)
    ]
    return [f'"{field["name"]}" {TYPES[field["type"]]}' for field in kept]


def _create(connection: duckdb.DuckDBPyConnection, schema: str, feed: str, private: bool) -> None:
    columns = ", ".join([*_columns(feed, private), LINEAGE])
    keys = ", ".join(f'"{key}"' for key in contracts()[feed]["schema"]["primaryKey"])
    voided = " and not coalesce(voided, false)" if "voided" in columns else ""
    latest = "latest" if schema == "feed" else "latest_names"
    connection.execute(f"create table {schema}.{feed} ({columns})")
    connection.execute(
        f"create view {latest}.{feed} as select * from {schema}.{feed}"
        f" qualify row_number() over (partition by {keys} order by row_version desc) = 1{voided}"
    )


def make_landing(path: Path, feeds: Mapping[str, Rows]) -> None:
    """Write a landing store with the given rows; every other feed is there and empty.

    A row of `people` may carry names: they go to the names table.
    """
    with duckdb.connect(str(path)) as connection:
        for schema in ("feed", "latest", "names", "latest_names", "ledger"):
            connection.execute(f"create schema {schema}")
        for statement in LEDGER:
            connection.execute(statement)
        for feed in contracts():
            _create(connection, "feed", feed, private=False)
        _create(connection, "names", "people", private=True)
        for feed, rows in feeds.items():
            insert(connection, f"feed.{feed}", rows)
        insert(connection, "names.people", feeds.get("people", ()))


def insert(connection: duckdb.DuckDBPyConnection, table: str, rows: Rows) -> None:
    """Insert rows into a table; keys that are not its columns are left out."""
    known = [row[0] for row in connection.execute(f"describe {table}").fetchall()]
    for row in rows:
        names = [name for name in row if name in known]
        marks = ", ".join("?" for _ in names)
        quoted = ", ".join(f'"{name}"' for name in names)
        connection.execute(
            f"insert into {table} ({quoted}) values ({marks})", [row[name] for name in names]
        )
