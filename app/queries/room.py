"""What one teacher reads about her own class. The scope has no other room on its shelf."""

from __future__ import annotations

from datetime import date

import pandas as pd

from app.access import Scope, fetch
from app.queries.kept import kept

# Every table of a room's file, and what it is, for a teacher who takes her data away.
TABLES = {
    "room_class": "The class on the day of the build: its size, its term, where its round stands.",
    "room_turns": "Each child of the class with her or his turns. The only table with names.",
    "room_lessons": "Lessons as they were logged.",
    "room_plan": "Planned lessons with what became of each.",
    "room_teach_next": "Each routine: whether this is a good moment to teach it again, and why.",
    "room_visits": "Visits with what was seen, without who looked.",
    "room_ratings": "Ratings given on visits.",
    "room_weeks": "Measures week by week, with counts and ranges.",
    "room_measures": "Measures by term and by window, with counts and ranges.",
    "room_change": "What has moved since the last named change.",
    "room_marks": "Named changes: coaching, new wording, another teacher.",
    "room_offers": "What each routine's review found: an offer of help, or why there is none.",
    "room_decisions": "What the support team decided about this class, and what has moved since.",
    "room_offer_history": "The same at every review of the year.",
    "room_data_offers": "What the class is asked about its records.",
    "room_draw_audits": "Whether turns fell as the class's way of drawing says.",
}


def whole_table(scope: Scope, name: str) -> pd.DataFrame:
    """Every row of one table of the room's file; `KeyError` for a table that is none of these."""
    TABLES[name]
    return fetch(scope, "room", f"select * from {name}")


@kept
def card(scope: Scope) -> pd.DataFrame:
    """The class on the as-of day: one row."""
    return fetch(scope, "room", "select * from room_class")


@kept
def title(scope: Scope) -> str:
    """The name of the class, as the school writes it; empty where it has none."""
    return " ".join(str(one) for one in card(scope)["title"].head(1))


@kept
def turns(scope: Scope) -> pd.DataFrame:
    """Who has had a turn and who is waiting, in the order of the queue."""
    return fetch(scope, "room", "select * from room_turns order by queue_position, pupil_id")


@kept
def lessons(scope: Scope, term_id: str) -> pd.DataFrame:
    """Lessons of a term, the latest first."""
    query = """
        select *
        from room_lessons
        where term_id = ?
        order by taught_on desc, started_at_local desc, lesson_id
    """
    return fetch(scope, "room", query, [term_id])


@kept
def plan(scope: Scope) -> pd.DataFrame:
    """Plan slots with what became of each, by the day they fell due."""
    query = "select * from room_plan order by due_on, routine_name, plan_slot_id"
    return fetch(scope, "room", query)


@kept
def plan_not_logged(scope: Scope) -> pd.DataFrame:
    """Planned lessons that fell due and were not written down, the latest first."""
    query = """
        select *
        from room_plan
        where status = 'not_logged'
        order by due_on desc, routine_name, plan_slot_id
    """
    return fetch(scope, "room", query)


@kept
def teach_next(scope: Scope) -> pd.DataFrame:
    """A line a routine: is this a good moment to teach it again, and why."""
    return fetch(scope, "room", "select * from room_teach_next order by sort_order")


@kept
def usual_starts(scope: Scope) -> pd.DataFrame:
    """How often each routine began at which time, the most frequent first."""
    query = """
        select routine_id, started_at_local, count(*) as lesson_count
        from room_lessons
        where started_at_local is not null and status <> 'cancelled'
        group by routine_id, started_at_local
        order by routine_id, lesson_count desc, started_at_local
    """
    return fetch(scope, "room", query)


@kept
def lessons_on(scope: Scope, day: date) -> pd.DataFrame:
    """Lessons of one day, in the order of the day."""
    query = """
        select *
        from room_lessons
        where taught_on = ?
        order by started_at_local, lesson_id
    """
    return fetch(scope, "room", query, [day])


@kept
def activities(scope: Scope) -> pd.DataFrame:
    """What the class was doing on visits, in the school's own words."""
    query = """
        select distinct activity
        from room_visits
        where activity is not null
        order by activity
    """
    return fetch(scope, "room", query)


@kept
def visits(scope: Scope, term_id: str) -> pd.DataFrame:
    """Visits of a term, the latest first, without observers."""
    query = """
        select *
        from room_visits
        where term_id = ?
        order by observed_on desc, observation_id
    """
    return fetch(scope, "room", query, [term_id])


@kept
def offers(scope: Scope) -> pd.DataFrame:
    """What the support team sees about this class, by the next day to look again."""
    query = "select * from room_offers order by next_review_on nulls last, routine_id"
    return fetch(scope, "room", query)


@kept
def decisions(scope: Scope) -> pd.DataFrame:
    """What the support team decided about this class, the latest first."""
    query = "select * from room_decisions order by decided_on desc, routine_id, decision_id"
    return fetch(scope, "room", query)


@kept
def offer_history(scope: Scope, routine_id: str) -> pd.DataFrame:
    """One routine of the class at every review of the year, the latest first."""
    query = """
        select *
        from room_offer_history
        where routine_id = ?
        order by review_on desc, measure_name
    """
    return fetch(scope, "room", query, [routine_id])


@kept
def data_offers(scope: Scope) -> pd.DataFrame:
    """What the class is asked about its data."""
    return fetch(scope, "room", "select * from room_data_offers order by data_code")


@kept
def draw_audits(scope: Scope, term_id: str) -> pd.DataFrame:
    """Whether turns fell as the class's way of drawing says, in one term."""
    query = "select * from room_draw_audits where term_id = ? order by method"
    return fetch(scope, "room", query, [term_id])
