"""The suppression macros rendered with plain Jinja and run on DuckDB, as the models run them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import duckdb
import jinja2

MACROS = Path(__file__).resolve().parents[3] / "dbt_project" / "macros" / "suppression"


def _module(thresholds: dict[str, int]) -> Any:
    environment = jinja2.Environment()
    environment.globals["threshold"] = lambda name: str(thresholds[name])
    text = "\n".join(path.read_text("utf-8") for path in sorted(MACROS.glob("*.sql")))
    return environment.from_string(text).module


def value(name: str, *columns: str, thresholds: dict[str, int], **row: float | None) -> Any:
    """The value of a macro for one row whose columns are given by name."""
    expression = getattr(_module(thresholds), name)(*columns)
    source = ", ".join(f"cast(? as double) as {column}" for column in row)
    with duckdb.connect() as connection:
        return connection.execute(
            f"select {expression} from (select {source})", list(row.values())
        ).fetchall()[0][0]


def reasons(
    people: Sequence[float | None], least: int, marked: Sequence[int] = ()
) -> list[str | None]:
    """Reasons of the rows of one parent, in order; a row goes by itself when `people < least`.

    The rows at the places `marked` go for a reason of their own, whatever their size.
    """
    sizes = ["people", least]
    macro = _module({}).withheld_reason("own", ["parent"], [sizes], "place", sizes)
    rows = ", ".join("(?, ?)" for _ in people)
    values = [item for place, count in enumerate(people) for item in (place, count)]
    query = f"""
        with rows_of_parent as (
            select
                place,
                'p' as parent,
                cast(people as double) as people,
                case
                    when people < {least} then 'small_cell'
                    when list_contains(?::integer[], place::integer) then 'few_classes'
                end as own
            from (values {rows}) as given(place, people)
        )
        select {macro} from rows_of_parent order by place
    """
    with duckdb.connect() as connection:
        return [
            reason for (reason,) in connection.execute(query, [list(marked), *values]).fetchall()
        ]


def ends(counted: Sequence[float], rest: Sequence[float], least: int) -> list[str | None]:
    """Reasons of rows that show a share of people, as both ends of it are judged together."""
    module = _module({})
    order = [["smaller", least]]
    one, other = (
        module.withheld_reason("own", ["parent"], order, "place", [end, least, beside])
        for end, beside in (("counted", "rest"), ("rest", "counted"))
    )
    rows = ", ".join(
        f"({place}, {c}, {r})" for place, (c, r) in enumerate(zip(counted, rest, strict=True))
    )
    query = f"""
        with rows_of_parent as (
            select
                place,
                'p' as parent,
                counted,
                rest,
                least(counted, rest) as smaller,
                case when least(counted, rest) < {least} then 'small_cell' end as own
            from (values {rows}) as given(place, counted, rest)
        ),
        judged as (select *, {one} as one, {other} as other from rows_of_parent)
        select case when 'complementary' in (one, other) then 'complementary' else own end
        from judged order by place
    """
    with duckdb.connect() as connection:
        return [reason for (reason,) in connection.execute(query).fetchall()]
