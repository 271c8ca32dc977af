"""What the support team reads: classes by name, offers, coaching, visits. No names of people."""

from __future__ import annotations

import pandas as pd

from app.access import Scope, fetch, shelf_of_class
from app.queries.kept import by_name, kept


@kept
def classes(scope: Scope, school_id: str) -> pd.DataFrame:
    """The classes of a school by name, never by a score."""
    query = f"""
        select *
        from mart_classes
        where school_id = ?
        order by {by_name("title")}, class_id
    """
    return fetch(scope, "support", query, [school_id])


@kept
def offers(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """Every line of the agenda, by the next day to look again and by name, with its course."""
    query = f"""
        select
            mart_offers.*,
            mart_offer_courses.course_code,
            mart_offer_courses.decided_on,
            mart_offer_courses.follow_up_on,
            coalesce(mart_offer_courses.is_to_consider, false) as is_to_consider
        from mart_offers
        left join mart_offer_courses using (offer_id)
        where mart_offers.school_id = ? and mart_offers.term_id = ?
        order by next_review_on nulls last, {by_name("class_title")}, grade_code,
            mart_offers.routine_id
    """
    return fetch(scope, "support", query, [school_id, term_id])


@kept
def cycles(scope: Scope, school_id: str, last_on: object, most: int) -> pd.DataFrame:
    """The latest coaching cycles up to a day, the open ones first, with the class they are for."""
    query = """
        select mart_coaching_cycles.*, mart_classes.title as class_title
        from mart_coaching_cycles
        inner join mart_classes using (class_id)
        where mart_coaching_cycles.school_id = ? and began_on <= ?
        order by is_open desc, last_event_on desc, class_title, cycle_id
        limit ?
    """
    return fetch(scope, "support", query, [school_id, last_on, most])


@kept
def turn_checks(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """What a replay of the draws found, with the class it is about."""
    query = f"""
        select mart_turn_checks.*, mart_classes.title as class_title
        from mart_turn_checks
        inner join mart_classes using (class_id)
        where mart_turn_checks.school_id = ? and term_id = ? and is_found
        order by {by_name("class_title")}, check_name
    """
    return fetch(scope, "support", query, [school_id, term_id])


@kept
def visits(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """Visits of a term, the latest first."""
    query = """
        select mart_visits.*, mart_classes.title as class_title
        from mart_visits
        inner join mart_classes using (class_id)
        where mart_visits.school_id = ? and term_id = ?
        order by observed_on desc, class_title, observation_id
    """
    return fetch(scope, "support", query, [school_id, term_id])


@kept
def activities(scope: Scope, school_id: str) -> pd.DataFrame:
    """What classes were doing on visits, in the school's own words."""
    query = """
        select distinct activity
        from mart_visits
        where school_id = ? and activity is not null
        order by activity
    """
    return fetch(scope, "support", query, [school_id])


@kept
def marks(scope: Scope, class_id: str) -> pd.DataFrame:
    """What changed in one class."""
    if shelf_of_class(scope, class_id) == "room":
        query = "select * from room_marks where class_id = ? order by marked_on"
        return fetch(scope, "room", query, [class_id])
    query = "select * from mart_marks_by_class where class_id = ? order by marked_on"
    return fetch(scope, "support", query, [class_id])


@kept
def offers_of_class(scope: Scope, class_id: str, term_id: str) -> pd.DataFrame:
    """Every line of one class in a term, with its offer or why there is none."""
    query = """
        select *
        from mart_offers
        where class_id = ? and term_id = ? and level_code = 'class'
        order by routine_id
    """
    return fetch(scope, "support", query, [class_id, term_id])


@kept
def reviews(scope: Scope, class_id: str, routine_id: str) -> pd.DataFrame:
    """One class and routine at every review of the year, the latest first."""
    query = """
        select *
        from mart_offer_reviews
        where class_id = ? and routine_id = ? and level_code = 'class'
        order by review_on desc, measure_name
    """
    return fetch(scope, "support", query, [class_id, routine_id])


@kept
def data_offers(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """What each class is asked about its data, by name."""
    query = f"""
        select *
        from mart_data_offers
        where school_id = ? and term_id = ?
        order by {by_name("class_title")}, data_code
    """
    return fetch(scope, "support", query, [school_id, term_id])


@kept
def draw_audits(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """Whether turns fell as each class's way of drawing says, by name."""
    query = f"""
        select mart_draw_audits.*, mart_classes.title as class_title
        from mart_draw_audits
        inner join mart_classes using (class_id)
        where mart_draw_audits.school_id = ? and term_id = ?
        order by {by_name("class_title")}, method
    """
    return fetch(scope, "support", query, [school_id, term_id])


@kept
def agreement(scope: Scope, school_id: str, term_id: str) -> pd.DataFrame:
    """How far two observers of one visit agree, by kind of what they wrote."""
    query = """
        select *
        from mart_agreement
        where school_id = ? and term_id = ?
        order by measure_kind
    """
    return fetch(scope, "support", query, [school_id, term_id])


@kept
def observers(scope: Scope, school_id: str) -> pd.DataFrame:
    """How each observer sees beside the others, by key."""
    query = """
        select *
        from mart_observers
        where school_id = ?
        order by measure_kind, observer_id
    """
    return fetch(scope, "support", query, [school_id])


@kept
def actions(scope: Scope, school_id: str) -> pd.DataFrame:
    """The team's last decisions by the day to come back and by name, each with the one before."""
    query = f"""
        select
            actions.*,
            earlier.moved_code as before_moved_code,
            earlier.then_value as before_then_value,
            earlier.later_value as before_later_value
        from mart_offer_decisions as actions
        left join mart_offer_decisions as earlier
            on
                actions.class_id = earlier.class_id
                and actions.routine_id = earlier.routine_id
                and actions.decision_number = earlier.decision_number + 1
        where actions.school_id = ? and actions.is_last and actions.standing_code <> 'past'
        order by
            actions.follow_up_on nulls last, {by_name("actions.class_title")}, actions.routine_id
    """
    return fetch(scope, "support", query, [school_id])


@kept
def decisions_of_class(scope: Scope, class_id: str, routine_id: str) -> pd.DataFrame:
    """Every decision of the year about one class, or one routine of it, the latest first."""
    shelf = shelf_of_class(scope, class_id)
    table = "room_decisions" if shelf == "room" else "mart_offer_decisions"
    query = f"""
        select *
        from {table}
        where class_id = ? and (? = '*' or routine_id = ?)
        order by decided_on desc, routine_id, decision_id
    """
    return fetch(scope, shelf, query, [class_id, routine_id, routine_id])


@kept
def decision_keys(scope: Scope) -> pd.DataFrame:
    """The keys of every decision that the build knows."""
    query = "select decision_id from mart_offer_decisions order by decision_id"
    return fetch(scope, "support", query)
