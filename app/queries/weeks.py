"""Measured numbers week by week: what the staves are drawn from."""

from __future__ import annotations

import pandas as pd

from app.access import Scope, fetch, shelf_of_class
from app.queries.kept import kept


@kept
def by_school(scope: Scope, school_id: str, measure_name: str) -> pd.DataFrame:
    """Every week of the year so far, by routine."""
    query = """
        select *
        from mart_weeks_by_school
        where school_id = ? and measure_name = ?
        order by routine_id, week_first_on
    """
    return fetch(scope, "school", query, [school_id, measure_name])


@kept
def by_grade(scope: Scope, school_id: str, grade_code: str, measure_name: str) -> pd.DataFrame:
    """Every week of one grade, by routine."""
    query = """
        select *
        from mart_weeks_by_grade
        where school_id = ? and grade_code = ? and measure_name = ?
        order by routine_id, week_first_on
    """
    return fetch(scope, "school", query, [school_id, grade_code, measure_name])


@kept
def by_class(scope: Scope, class_id: str, measure_name: str) -> pd.DataFrame:
    """Every week of one class, by routine, with the middle half of the school's classes."""
    if shelf_of_class(scope, class_id) == "room":
        query = """
            select *
            from room_weeks
            where class_id = ? and measure_name = ?
            order by routine_id, week_first_on
        """
        return fetch(scope, "room", query, [class_id, measure_name])
    query = """
        select
            mart_weeks_by_class.*,
            mart_weeks_band.q1 as band_low,
            mart_weeks_band.q3 as band_high,
        from mart_weeks_by_class
        left join mart_weeks_band
            using (school_id, routine_id, term_id, week_first_on, measure_name)
        where class_id = ? and measure_name = ?
        order by routine_id, week_first_on
    """
    return fetch(scope, "support", query, [class_id, measure_name])


@kept
def change_of_school(scope: Scope, school_id: str, measure_name: str) -> pd.DataFrame:
    """What the weeks of the school say since the newest wording, by routine."""
    query = """
        select *
        from mart_change_by_school
        where school_id = ? and measure_name = ?
        order by routine_id
    """
    return fetch(scope, "school", query, [school_id, measure_name])


@kept
def change_of_class(scope: Scope, class_id: str, measure_name: str) -> pd.DataFrame:
    """What the visits of one class say since its newest named change, by routine."""
    shelf = shelf_of_class(scope, class_id)
    table = "room_change" if shelf == "room" else "mart_change_by_class"
    query = f"""
        select *
        from {table}
        where class_id = ? and measure_name = ?
        order by routine_id
    """
    return fetch(scope, shelf, query, [class_id, measure_name])
