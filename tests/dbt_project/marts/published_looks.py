"""Counts of looks in the school's file, as a linear system: what a figure of one class is made of.

A figure of a routine, a grade and a week is a name `routine|grade|week`; `*` is the sum over that
side (over weeks: the whole term). What no figure shows is nothing.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import duckdb

from tests.dbt_project.linear_attack import System

FEW_CLASSES = 3
Place = tuple[str, str, str]


@dataclass(frozen=True)
class Figure:
    """How many looks a figure holds, of how many classes, and why it is withheld if it is."""

    looks: float
    classes: int
    reason: str | None

    def is_told(self, is_open: bool) -> bool:
        """`is_open`: company is not withheld."""
        return self.reason is None or (
            is_open and self.reason == "complementary" and self.classes >= FEW_CLASSES
        )


def figures(
    warehouse: duckdb.DuckDBPyConnection, measure: str, term: str, window: str, has_weeks: bool
) -> dict[Place, Figure]:
    """Every figure of a measure in a term by routine, grade and week, none where nothing was."""
    query = """
        select routine_id, grade_code, '*', coalesce(denominator_count, 0), class_count, reason
        from core.fct_measures_judged
        where
            level_code in ('school', 'grade') and session_count > 0
            and measure_name = $measure and term_id = $term and window_code = $window
        union all
        select routine_id, weeks.grade_code, weeks.week_first_on::varchar,
            coalesce(weeks.denominator_count, 0), seen.class_count, weeks.reason
        from core.fct_weeks_filled as weeks
        inner join core.fct_measure_weeks as seen
            using (school_id, level_code, class_id, grade_code, routine_id, term_id, measure_name,
                week_first_on)
        where
            level_code in ('school', 'grade') and weeks.session_count > 0
            and measure_name = $measure and term_id = $term and $has_weeks
    """
    values = {"measure": measure, "term": term, "window": window, "has_weeks": has_weeks}
    found = warehouse.execute(query, values).fetchall()
    return {row[:3]: Figure(*row[3:]) for row in found}


def system_of(found: Mapping[Place, Figure], is_open: bool = False) -> System:
    """What is published, and every sum that holds."""
    system = System()
    for place, figure in found.items():
        if figure.is_told(is_open):
            system.publish("|".join(place), figure.looks)
        else:
            system.bound("|".join(place), 0, float("inf"))
    for side in range(3):
        parts: dict[Place, list[Place]] = defaultdict(list)
        for place in found:
            if place[side] != "*":
                routine, grade, week = (
                    "*" if at == side else code for at, code in enumerate(place)
                )
                parts[routine, grade, week].append(place)
        for whole, members in parts.items():
            held = sum(found[member].looks for member in members)
            if whole in found and abs(held - found[whole].looks) < 1e-6:
                system.adds_up(["|".join(member) for member in members], "|".join(whole))
    return system


def of_few(found: Mapping[Place, Figure]) -> dict[str, float]:
    """Figures of one or two classes: names and looks."""
    return {
        "|".join(place): figure.looks
        for place, figure in found.items()
        if 0 < figure.classes < FEW_CLASSES and figure.looks > 0
    }
