"""Rows given to a query macro, written as a select."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from tests.dbt_project.macro_runner import table


def given(columns: Mapping[str, str], rows: Iterable[Sequence[Any]]) -> str:
    """A select of these rows; `columns` gives each column's type. No row gives an empty one."""
    cells = ", ".join(f"cast({name} as {kind}) as {name}" for name, kind in columns.items())
    names = ", ".join(columns)
    tuples = [f"({', '.join(_literal(one) for one in row)})" for row in rows]
    if not tuples:
        nothing = ", ".join(f"cast(null as {kind}) as {name}" for name, kind in columns.items())
        return f"select {nothing} where false"
    return f"select {cells} from (values {', '.join(tuples)}) as given_rows({names})"


def answers(query: str, names: Sequence[str], **relations: str) -> dict[Any, dict[str, Any]]:
    """Rows of a query by their first column, each as a mapping of the other columns' names."""
    return {row[0]: dict(zip(names, row[1:], strict=True)) for row in table(query, **relations)}


def _literal(value: Any) -> str:
    if value is None:
        return "null"
    if isinstance(value, str):
        return "'" + value.replace("'", "''") + "'"
    return str(value).lower()
