"""Measured numbers for a term, by school, grade, tier or class."""

from __future__ import annotations

import pandas as pd

from app.access import Scope, fetch, shelf_of_class
from app.queries.kept import kept


@kept
def by_school(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """Every measure of the school for one term, the whole term to date."""
    query = """
        select *
        from mart_measures_by_school
        where school_id = ? and term_id = ? and window_code = 'term'
        order by routine_id, measure_name
    """
    return fetch(scope, "school", query, [school_id, term_id])


@kept
def by_school_all_terms(scope: Scope, school_id: str, measure_name: str) -> pd.DataFrame:
    """One measure of the school in every term, by routine."""
    query = """
        select *
        from mart_measures_by_school
        where school_id = ? and measure_name = ? and window_code = 'term'
        order by routine_id, term_id
    """
    return fetch(scope, "school", query, [school_id, measure_name])


@kept
def by_grade(scope: Scope, school_id: str, term_id: str, measure_name: str) -> pd.DataFrame:
    """One measure by grade and routine for one term, youngest grade first."""
    query = """
        select mart_measures_by_grade.*, mart_grades.name as grade_name
        from mart_measures_by_grade
        inner join mart_grades using (school_id, grade_code)
        where school_id = ? and term_id = ? and measure_name = ? and window_code = 'term'
        order by mart_grades.sort_order, routine_id
    """
    return fetch(scope, "school", query, [school_id, term_id, measure_name])


@kept
def by_tier(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """Support measures by tier for one term."""
    query = """
        select *
        from mart_measures_by_tier
        where school_id = ? and term_id = ? and window_code = 'term'
        order by tier_code, routine_id, measure_name
    """
    return fetch(scope, "school", query, [school_id, term_id])


@kept
def by_class(scope: Scope, class_id: str) -> pd.DataFrame:
    """Every measure of one class in every term, for its teacher or the support team."""
    if shelf_of_class(scope, class_id) == "room":
        query = "select * from room_measures where class_id = ? and window_code = 'term'"
        return fetch(scope, "room", query, [class_id])
    query = "select * from mart_measures_by_class where class_id = ? and window_code = 'term'"
    return fetch(scope, "support", query, [class_id])
