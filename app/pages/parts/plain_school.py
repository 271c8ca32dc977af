"""Plain counts of a school: the rows behind each."""

from __future__ import annotations

from collections.abc import Callable

from app.access import Visit
from app.look import evidence, html, words
from app.pages.parts import plain_people, plain_watching
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text import health, plain_tables
from app.text.places import Place

MOST = 60
# What stands on the support team's shelf, although it is of the whole school.
OF_TEAM = ("visits_made", "watched_by_two", "observers_compared")


def _rows_received(visit: Visit, school: Row, _: Place) -> bool:
    rows = ask.health(visit.scope, str(school["school_id"]))
    if rows.empty:
        return False
    words.note(health.balance(rows))
    evidence.table(health.feeds_table(rows), "What came in, by kind of data")
    return True


def _late_entries(visit: Visit, school: Row, _: Place) -> bool:
    told = plain_tables.late_facts(ask.health(visit.scope, str(school["school_id"])))
    html.facts(told)
    return bool(told)


def _lessons(visit: Visit, school: Row, place: Place) -> bool:
    rows = ask.teaching(visit.scope, str(school["school_id"]))
    rows = rows[rows["lesson_kind"] == "*"]
    rows = rows if place.routine == "*" else rows[rows["routine_id"] == place.routine]
    if rows.empty:
        return False
    table = plain_tables.weeks_of_lessons(rows)
    evidence.table(table, "Lessons given and planned, week by week", shown=MOST)
    return True


def _weakest_step(visit: Visit, school: Row, place: Place) -> bool:
    rows = ask.routines(visit.scope, str(school["school_id"]))
    found = rows[rows["routine_id"] == place.routine].to_dict("records")
    if not found:
        return False
    html.facts(plain_tables.step_facts(found[0]))
    return True


OF_SCHOOL: dict[str, Callable[[Visit, Row, Place], bool]] = {
    "classes_and_pupils": plain_people.classes_and_pupils,
    "open_offers": plain_people.open_offers,
    "coaching_rounds": plain_people.coaching,
    "rows_received": _rows_received,
    "late_entries": _late_entries,
    "lessons_by_week": _lessons,
    "weakest_step": _weakest_step,
    "visits_made": plain_watching.visits,
    "watched_by_two": plain_watching.agreement,
    "observers_compared": plain_watching.observers,
    "visits_needed": plain_watching.visits_needed,
    "class_spread": plain_watching.class_spread,
    "what_moved": plain_watching.moved,
}
