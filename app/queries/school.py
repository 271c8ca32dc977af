"""What every reader may know about the school: its year, its routines, its words."""

from __future__ import annotations

import pandas as pd

from app.access import Scope, fetch
from app.queries.kept import kept


@kept
def schools(scope: Scope) -> pd.DataFrame:
    """Every school of the build, by name."""
    return fetch(scope, "school", "select * from mart_school order by school_name, school_id")


@kept
def terms(scope: Scope, school_id: str) -> pd.DataFrame:
    """The terms of a school that have begun, in order."""
    query = """
        select *
        from mart_terms
        where school_id = ? and elapsed_week_count > 0
        order by term_number
    """
    return fetch(scope, "school", query, [school_id])


@kept
def routines(scope: Scope, school_id: str) -> pd.DataFrame:
    """The routines of a school in the order the school gives them."""
    query = "select * from mart_routines where school_id = ? order by sort_order, name"
    return fetch(scope, "school", query, [school_id])


@kept
def grades(scope: Scope, school_id: str) -> pd.DataFrame:
    """The grades of a school, youngest first."""
    query = "select * from mart_grades where school_id = ? order by sort_order"
    return fetch(scope, "school", query, [school_id])


@kept
def breaks(scope: Scope, school_id: str) -> pd.DataFrame:
    """Stretches without school."""
    query = "select * from mart_breaks where school_id = ? order by first_on"
    return fetch(scope, "school", query, [school_id])


@kept
def rewordings(scope: Scope, school_id: str) -> pd.DataFrame:
    """Days on which a routine was reworded."""
    query = "select * from mart_definition_changes where school_id = ? order by changed_on"
    return fetch(scope, "school", query, [school_id])


@kept
def catalogue(scope: Scope) -> pd.DataFrame:
    """What each measure is, in words."""
    return fetch(scope, "school", "select * from mart_measure_catalogue order by sort_order")


@kept
def settings(scope: Scope) -> pd.DataFrame:
    """Settings that shape the numbers."""
    return fetch(scope, "school", "select * from mart_settings order by setting_name")


def setting(scope: Scope, name: str) -> int:
    """A setting that is a whole number."""
    rows = settings(scope)
    return int(rows.set_index("setting_name")["value"][name])


def level(scope: Scope, name: str) -> float | None:
    """A setting that is a share or another figure; None for one that there is not."""
    rows = settings(scope)
    found = rows.loc[rows["setting_name"] == name, "value"]
    return None if found.empty else float(found.iloc[0])


@kept
def health(scope: Scope, school_id: str) -> pd.DataFrame:
    """Per feed: what came in, what was set aside, how fresh it is."""
    query = "select * from mart_data_health where school_id = ? order by feed"
    return fetch(scope, "school", query, [school_id])


@kept
def coaching(scope: Scope, school_id: str) -> pd.DataFrame:
    """Coaching cycles of the year so far: one row; a count that is withheld in a term is null."""
    query = """
        select
            case when count(cycle_count) = count(*) then coalesce(sum(cycle_count), 0) end
                as cycle_count,
            case when count(moved_count) = count(*) then coalesce(sum(moved_count), 0) end
                as moved_count,
        from mart_coaching_by_school
        where school_id = ?
    """
    return fetch(scope, "school", query, [school_id])


@kept
def matters(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """The count of open offers, and what belongs to a grade or to the whole school."""
    query = """
        select *
        from mart_offers_by_school
        where school_id = ? and term_id = ?
        order by matter_code, grade_code, routine_id
    """
    return fetch(scope, "school", query, [school_id, term_id])


@kept
def teaching(scope: Scope, school_id: str) -> pd.DataFrame:
    """Lessons given and planned, by routine and week, all kinds and each kind."""
    query = """
        select mart_teaching_calendar.*, mart_routines.name as routine_name
        from mart_teaching_calendar
        inner join mart_routines using (school_id, routine_id)
        where school_id = ?
        order by mart_routines.sort_order, week_first_on, lesson_kind
    """
    return fetch(scope, "school", query, [school_id])


@kept
def steps(scope: Scope, school_id: str) -> pd.DataFrame:
    """The ordered steps of each routine, in its present wording."""
    query = """
        select *
        from mart_routine_steps
        where school_id = ?
        order by routine_id, step_number
    """
    return fetch(scope, "school", query, [school_id])


@kept
def health_total(scope: Scope, school_id: str) -> pd.DataFrame:
    """The counts of all feeds together: one row."""
    query = """
        select
            coalesce(sum(received_count), 0) as received_count,
            coalesce(sum(accepted_count), 0) as accepted_count,
            coalesce(sum(held_count), 0) as held_count,
        from mart_data_health
        where school_id = ?
    """
    return fetch(scope, "school", query, [school_id])


@kept
def dependability(scope: Scope, school_id: str) -> pd.DataFrame:
    """What a class's number rests on after 1 to 12 visits, by kind of what is written down."""
    query = """
        select *
        from mart_dependability
        where school_id = ?
        order by measure_kind, planned_visits
    """
    return fetch(scope, "school", query, [school_id])


@kept
def held(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """Measures that are held because observers do not see the same yet."""
    query = """
        select *
        from mart_held_measures
        where school_id = ? and term_id = ?
        order by measure_name
    """
    return fetch(scope, "school", query, [school_id, term_id])


@kept
def held_terms(scope: Scope, school_id: str, measure_name: str) -> pd.DataFrame:
    """The terms of the year in which one measure is held, in order."""
    query = """
        select mart_terms.title, mart_terms.first_on, mart_terms.last_on
        from mart_held_measures
        inner join mart_terms using (school_id, term_id)
        where mart_held_measures.school_id = ? and measure_name = ?
        order by term_number
    """
    return fetch(scope, "school", query, [school_id, measure_name])


def held_until(scope: Scope, school_id: str, measure_name: str) -> object:
    """The last day of the last term in which a measure is held; None when it is in none."""
    terms = held_terms(scope, school_id, measure_name)
    return None if terms.empty else terms["last_on"].max()


@kept
def spread(scope: Scope, school_id: str, term_id: str, measure_name: str) -> pd.DataFrame:
    """How much classes differ beyond chance, by routine."""
    query = """
        select *
        from mart_class_spread
        where school_id = ? and term_id = ? and measure_name = ?
        order by routine_id
    """
    return fetch(scope, "school", query, [school_id, term_id, measure_name])
