"""One number by its place, and the rows it was made of where this reader may see them."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from app.access import Scope, fetch, shelf_of_class
from app.queries.kept import by_name, kept

# What the school's tables hold of each level: the table of a term or window, and of single weeks.
_TABLES: Mapping[str, tuple[str, str | None, str]] = {
    "school": ("mart_measures_by_school", "mart_weeks_by_school", "''"),
    "grade": ("mart_measures_by_grade", "mart_weeks_by_grade", "grade_code"),
    "tier": ("mart_measures_by_tier", None, "tier_code"),
}
_OF_CLASS = {
    "room": ("room_measures", "room_weeks"),
    "support": ("mart_measures_by_class", "mart_weeks_by_class"),
}
Day = object


@kept
def figure(
    scope: Scope, level: str, key: str, school_id: str, measure_name: str, routine_id: str,
    term_id: str, window_code: str, week_first_on: str,
) -> pd.DataFrame:  # fmt: skip
    """The one row of a number, empty when this reader's snapshot has none."""
    shelf, table, home, values = _home(scope, level, key, school_id, bool(week_first_on))
    if table is None:
        return pd.DataFrame()
    window = "week_first_on = cast(? as date)" if week_first_on else "window_code = ?"
    query = f"""
        select *
        from {table}
        where {home} and measure_name = ? and routine_id = ? and term_id = ? and {window}
    """
    found = [*values, measure_name, routine_id, term_id, week_first_on or window_code]
    return fetch(scope, shelf, query, found)


def _home(
    scope: Scope, level: str, key: str, school_id: str, is_week: bool
) -> tuple[str, str | None, str, list[object]]:
    """Shelf, table, condition and its values for the rows of one class, grade, tier or school."""
    if level == "class":
        shelf = shelf_of_class(scope, key)
        return shelf, _OF_CLASS[shelf][is_week], "class_id = ?", [key]
    of_term, of_week, column = _TABLES[level]
    home = f"{column} = ? and school_id = ?"
    return "school", of_week if is_week else of_term, home, [key, school_id]


@kept
def visits_of_class(
    scope: Scope, class_id: str, routine_id: str, first_on: Day, last_on: Day
) -> pd.DataFrame:
    """Visits to one class in a stretch of days, the latest first."""
    shelf = shelf_of_class(scope, class_id)
    table = "room_visits" if shelf == "room" else "mart_visits"
    query = f"""
        select *
        from {table}
        where
            class_id = ?
            and (? = '*' or routine_id = ?)
            and observed_on between cast(? as date) and cast(? as date)
        order by observed_on desc, observation_id
    """
    return fetch(scope, shelf, query, [class_id, routine_id, routine_id, first_on, last_on])


@kept
def visits_of_school(
    scope: Scope, school_id: str, grade_code: str, routine_id: str, first_on: Day, last_on: Day
) -> pd.DataFrame:
    """Visits to the classes of a school or of one grade of it, the latest first."""
    query = f"""
        select mart_visits.*, mart_classes.title as class_title
        from mart_visits
        inner join mart_classes using (class_id)
        where
            mart_visits.school_id = ?
            and (? = '' or ';' || grade_codes || ';' like '%;' || ? || ';%')
            and (? = '*' or routine_id = ?)
            and observed_on between cast(? as date) and cast(? as date)
        order by observed_on desc, {by_name("class_title")}, observation_id
    """
    values = [school_id, grade_code, grade_code, routine_id, routine_id, first_on, last_on]
    return fetch(scope, "support", query, values)


@kept
def coaching_by_term(scope: Scope, school_id: str) -> pd.DataFrame:
    """Rounds of coaching of each term, as counts."""
    query = """
        select mart_coaching_by_school.*, mart_terms.title as term_title
        from mart_coaching_by_school
        inner join mart_terms using (school_id, term_id)
        where school_id = ?
        order by term_number
    """
    return fetch(scope, "school", query, [school_id])


@kept
def cycles_of_class(scope: Scope, class_id: str, routine_id: str) -> pd.DataFrame:
    """Rounds of coaching of one class, by the day they began."""
    query = """
        select *
        from mart_coaching_cycles
        where class_id = ? and (? = '*' or routine_id = ?)
        order by began_on desc, cycle_id
    """
    return fetch(scope, "support", query, [class_id, routine_id, routine_id])


@kept
def turn_checks(scope: Scope, class_id: str, term_id: str) -> pd.DataFrame:
    """What a replay of one class's draws found, found or not."""
    query = """
        select *
        from mart_turn_checks
        where class_id = ? and (? = '' or term_id = ?)
        order by term_id, check_name
    """
    return fetch(scope, "support", query, [class_id, term_id, term_id])


@kept
def lessons(scope: Scope, routine_id: str, first_on: Day, last_on: Day) -> pd.DataFrame:
    """Lessons of the teacher's own class in a stretch of days, the latest first."""
    query = """
        select *
        from room_lessons
        where
            (? = '*' or routine_id = ?)
            and taught_on between cast(? as date) and cast(? as date)
        order by taught_on desc, started_at_local desc, lesson_id
    """
    return fetch(scope, "room", query, [routine_id, routine_id, first_on, last_on])


@kept
def slots(scope: Scope, routine_id: str, first_on: Day, last_on: Day) -> pd.DataFrame:
    """Planned lessons of the teacher's own class that fell due in a stretch of days."""
    query = """
        select *
        from room_plan
        where
            (? = '*' or routine_id = ?)
            and status != 'not_due'
            and due_on between cast(? as date) and cast(? as date)
        order by due_on desc, routine_name, plan_slot_id
    """
    return fetch(scope, "room", query, [routine_id, routine_id, first_on, last_on])
