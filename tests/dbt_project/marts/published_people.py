"""The counts of children in the published files of a school, as a linear system.

Truth is read from the core tables; what is published, and what a reason tells, from the files that
a reader holds. A count is a name `measure/term/window/row/end`; `rest` are those not counted, `all`
both together; rows are `*` (the school), a grade, a class, a tier.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

import duckdb

from tests.dbt_project.linear_attack import System

SMALL_CELL = 10
KEYS = "level_code, class_id, grade_code, tier_code, routine_id, term_id, window_code, measure_name"


@dataclass(frozen=True)
class Row:
    """A row counted over children: the truth, and what is told of it."""

    level: str
    row: str
    table: str
    measure: str
    is_of_people: bool
    counted: float
    total: float
    reason: str | None

    def name(self, end: str) -> str:
        return f"{self.table}/{self.row}/{end}"

    def ends(self) -> dict[str, float]:
        """Every count of children that the row holds, in truth."""
        whole = {"all": self.total}
        if not self.is_of_people:
            return whole
        return {"counted": self.counted, "rest": self.total - self.counted, **whole}


def rows(warehouse: duckdb.DuckDBPyConnection, levels: Sequence[str]) -> list[Row]:
    """Rows of the year that count children, as judged for the levels that a reader holds."""
    query = f"""
        select
            judged.level_code,
            case judged.level_code
                when 'class' then judged.class_id
                when 'tier' then 'tier ' || judged.tier_code
                else judged.grade_code
            end,
            concat_ws('/', judged.measure_name, judged.term_id, judged.window_code,
                judged.routine_id),
            judged.measure_name, counts.is_of_people, judged.numerator_count,
            judged.denominator_count, judged.reason
        from core.fct_measures_judged as judged
        inner join core.dim_measure_counts as counts using (measure_name)
        where
            counts.is_over_children
            and judged.denominator_count is not null
            and list_contains({list(levels)}, judged.level_code)
    """
    return [Row(*found) for found in warehouse.execute(query).fetchall()]


def tell(system: System, row: Row, is_open: bool = False) -> None:
    """What the published row and its reason say. `is_open`: company is not withheld."""
    reason = None if is_open and row.reason == "complementary" else row.reason
    ends = row.ends()
    if row.is_of_people:
        system.adds_up([row.name("counted"), row.name("rest")], row.name("all"))
    if reason is None:
        for end, count in ends.items():
            system.publish(row.name(end), count)
    elif reason == "end_coarsened":
        small = "counted" if row.counted < SMALL_CELL else "rest"
        system.publish(row.name("all"), row.total)
        system.bound(row.name(small), 0, SMALL_CELL - 1)
    elif reason == "small_cell" and row.total < SMALL_CELL:
        system.bound(row.name("all"), 0, SMALL_CELL - 1)


def tell_company(system: System, table: Sequence[Row]) -> None:
    """Where one reason of a table tells a size, `complementary` tells that nothing is small."""
    if not any(row.reason in ("end_coarsened", "small_cell") for row in table):
        return
    for row in table:
        if row.reason == "complementary":
            for end, count in row.ends().items():
                if count >= SMALL_CELL:
                    system.bound(row.name(end), SMALL_CELL, inf)


def relate(
    system: System, found: Sequence[Row], grades_of: Mapping[str, Sequence[str]], is_mixed: bool
) -> None:
    """Classes add up to their grade, grades to the school; the last days lie in their term."""
    named = {(row.table, row.row): row for row in found}
    for row in found:
        for end in row.ends():
            for whole, parts in _parts(row, named, grades_of):
                line = {named[row.table, part].name(end): 1.0 for part in parts}
                truth = sum(named[row.table, part].ends()[end] for part in parts)
                if truth == named[row.table, whole].ends()[end]:
                    system.between({**line, named[row.table, whole].name(end): -1.0}, 0, 0)
                elif is_mixed and truth > named[row.table, whole].ends()[end]:
                    system.between({**line, named[row.table, whole].name(end): -1.0}, 0, inf)
    for (table, row_name), row in named.items():
        earlier = named.get((table.replace("/last_20/", "/term/"), row_name))
        if "/last_20/" in table and earlier is not None:
            for end, count in row.ends().items():
                if end != "rest" and earlier.ends()[end] >= count:
                    _difference(system, earlier.name(end), row.name(end))


def _parts(
    row: Row, named: Mapping[tuple[str, str], Row], grades_of: Mapping[str, Sequence[str]]
) -> list[tuple[str, list[str]]]:
    wholes = {"*": [grade for grade in grades_of if (row.table, grade) in named]}
    wholes |= {
        grade: [key for key in classes if (row.table, key) in named]
        for grade, classes in grades_of.items()
    }
    parts = wholes.get(row.row, [])
    return [(row.row, parts)] if parts else []


def _difference(system: System, whole: str, part: str) -> None:
    system.between({whole: 1.0, part: -1.0, f"{whole} - {part}": -1.0}, 0, 0)


def small_truths(found: Sequence[Row]) -> dict[str, float]:
    """Counts of fewer children than the setting, which nobody may read or work out."""
    small = {
        row.name(end): count
        for row in found
        for end, count in row.ends().items()
        if count < SMALL_CELL
    }
    named = {row.name(end): count for row in found for end, count in row.ends().items()}
    for name, count in named.items():
        whole = name.replace("/last_20/", "/term/")
        if whole != name and whole in named and not name.endswith("/rest"):
            left = named[whole] - count
            if 0 < left < SMALL_CELL:
                small[f"{whole} - {name}"] = left
    return small


def by_table(found: Sequence[Row]) -> list[list[Row]]:
    """Rows that are published side by side: one measure, term and window at one level."""
    tables: dict[tuple[str, str], list[Row]] = defaultdict(list)
    for row in found:
        tables[row.table, row.level].append(row)
    return list(tables.values())
