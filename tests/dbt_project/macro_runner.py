"""Render the project's own macros with plain Jinja and run them on DuckDB.

The models use the same macro files through dbt; only `adapter.dispatch`, `return` and `var` are
given here, in the way dbt gives them for DuckDB.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import duckdb
import jinja2

MACROS = Path(__file__).resolve().parents[2] / "dbt_project" / "macros"
FOLDERS = ("engine", "statistics")


class _Adapter:
    """Dispatch to `duckdb__x`, else `default__x`, as dbt does."""

    def __init__(self) -> None:
        self.scope: dict[str, Any] = {}

    def dispatch(self, name: str, _package: str) -> Callable[..., str]:
        found: Callable[..., str] = (
            self.scope.get(f"duckdb__{name}") or self.scope[f"default__{name}"]
        )
        return found


@cache
def macros() -> Mapping[str, Callable[..., str]]:
    """Every macro of the engine and statistics folders by name."""
    adapter = _Adapter()
    environment = jinja2.Environment()
    environment.globals.update(
        adapter=adapter, var=lambda _name: "UTC", **{"return": lambda text: text}
    )
    files = [path for folder in FOLDERS for path in sorted((MACROS / folder).glob("*.sql"))]
    text = "\n".join(path.read_text(encoding="utf-8") for path in files)
    adapter.scope = {
        name: macro
        for name, macro in vars(environment.from_string(text).module).items()
        if callable(macro)
    }
    return adapter.scope


def one_thread() -> duckdb.DuckDBPyConnection:
    """A database that adds up in one order: the same question has one answer to the digit."""
    return duckdb.connect(config={"threads": 1})


def scalar(name: str, *args: object, **columns: Any) -> Any:
    """The value of a macro that is an expression; `columns` become columns of one row."""
    sources = ", ".join(f"cast(? as double) as {column}" for column in columns) or "1 as one"
    expression = macros()[name](*args)
    with one_thread() as connection:
        return connection.execute(
            f"select {expression} as answer from (select {sources})", list(columns.values())
        ).fetchall()[0][0]


def table(query: str, **relations: str) -> list[tuple[Any, ...]]:
    """Rows of a query that reads the named relations, each given as a select."""
    ctes = ", ".join(f"{name} as ({select})" for name, select in relations.items())
    with one_thread() as connection:
        return connection.execute(f"with {ctes} {query}").fetchall()
