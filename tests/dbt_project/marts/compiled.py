"""A model of the built project, run again on rows of our own: the SQL that the warehouse ran."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import duckdb

Rows = Sequence[Mapping[str, Any]]


def run_model(target: Path, model: str, inputs: Mapping[str, Rows]) -> list[dict[str, Any]]:
    """Rows of a compiled core model, named with its folder, read from the given rows.

    Inputs are core models too. Every row of an input has the same columns; columns that the model
    does not read may be left out.
    """
    path = target / "compiled" / "roundelay" / "models" / "marts" / "core" / f"{model}.sql"
    with duckdb.connect() as connection:
        connection.execute("attach ':memory:' as warehouse")
        connection.execute("create schema warehouse.core")
        for name, rows in inputs.items():
            _create(connection, name, rows)
        found = connection.execute(path.read_text("utf-8"))
        columns = [column[0] for column in found.description]
        return [dict(zip(columns, row, strict=True)) for row in found.fetchall()]


def _create(connection: duckdb.DuckDBPyConnection, name: str, rows: Rows) -> None:
    columns = list(rows[0])
    typed = ", ".join(f'"{column}" {_type_of(rows, column)}' for column in columns)
    connection.execute(f"create table warehouse.core.{name} ({typed})")
    places = ", ".join("?" for _ in columns)
    connection.executemany(
        f"insert into warehouse.core.{name} values ({places})",
        [[row[column] for column in columns] for row in rows],
    )


def _type_of(rows: Rows, column: str) -> str:
    known = {type(row[column]) for row in rows} - {type(None)}
    if bool in known:
        return "boolean"
    if known & {int, float}:
        return "double"
    return "varchar"
