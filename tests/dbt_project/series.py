"""Series of points given to a query macro, and its rows by column name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tests.dbt_project.macro_runner import macros, one_thread

Points = Sequence[float | None]


def series(*given: Points) -> str:
    """A select of k (which series), i (place in it), both from 1, and x; the last point first."""
    return _select(
        ["k", "i", "x"],
        [(k, i, x) for k, points in enumerate(given, 1) for i, x in enumerate(points, 1)],
    )


def phases(*given: tuple[Points, Points]) -> str:
    """A select of k, i, x and b: false for the points before, true for those after."""
    return _select(
        ["k", "i", "x", "b"],
        [
            (k, i, x, i > len(before))
            for k, (before, after) in enumerate(given, 1)
            for i, x in enumerate([*before, *after], 1)
        ],
    )


def pairs(*given: Sequence[tuple[float | None, float | None]]) -> str:
    """A select of k, x and y."""
    return _select(["k", "x", "y"], [(k, x, y) for k, both in enumerate(given, 1) for x, y in both])


def rows_of(macro: str, *args: Any, **relations: str) -> list[dict[str, Any]]:
    """Rows of a query macro, each by column name, ordered by its first two columns."""
    ctes = ", ".join(f"{name} as ({select})" for name, select in relations.items())
    with one_thread() as connection:
        found = connection.execute(f"with {ctes} {macros()[macro](*args)}")
        names = [column[0] for column in found.description or []]
        rows = [dict(zip(names, row, strict=True)) for row in found.fetchall()]
    return sorted(rows, key=lambda row: tuple(row[name] for name in names[:2] if name in "ki"))


def _select(names: Sequence[str], rows: Sequence[Sequence[Any]]) -> str:
    kinds = {"k": "int", "i": "int", "b": "boolean"}
    cells = ", ".join(f"cast({name} as {kinds.get(name, 'double')}) as {name}" for name in names)
    if not rows:
        empty = ", ".join(f"cast(null as {kinds.get(name, 'double')}) as {name}" for name in names)
        return f"select {empty} where false"
    texts = [", ".join("null" if one is None else repr(one) for one in row) for row in rows[::-1]]
    return f"select {cells} from (values ({'), ('.join(texts)})) as given_rows({', '.join(names)})"
