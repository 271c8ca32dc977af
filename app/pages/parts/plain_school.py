"""Plain counts of a school: the rows behind each."""

from __future__ import annotations

from collections.abc import Callable

from app.access import Visit
from app.look import evidence, html, words
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import school as ask
from app.queries import support, weeks
from app.text import change, health, plain_tables, spread, watching
from app.text.classes import visit_table, visits_sentence
from app.text.places import Place

MOST = 60
# What stands on the support team's shelf, although it is of the whole school.
OF_TEAM = ("visits_made", "watched_by_two", "observers_compared")


def routine_names(visit: Visit, school: Row) -> dict[str, str]:
    """Routine keys and their names."""
    rows = ask.routines(visit.scope, str(school["school_id"]))
    return dict(zip(rows["routine_id"], rows["name"], strict=True))


def _classes_and_pupils(visit: Visit, school: Row, _: Place) -> bool:
    rows = ask.grades(visit.scope, str(school["school_id"]))
    evidence.table(plain_tables.grades_table(rows), "Classes and pupils of each grade")
    return True


def _open_offers(visit: Visit, school: Row, place: Place) -> bool:
    rows = ask.matters(visit.scope, str(school["school_id"]), place.term)
    if rows.empty:
        return False
    grades = ask.grades(visit.scope, str(school["school_id"]))
    names = dict(zip(grades["grade_code"], grades["name"], strict=True))
    table = plain_tables.matters_table(rows, names, routine_names(visit, school))
    evidence.table(table, "Offers and matters of the term")
    if visit.reader.role == "support":
        words.note("Each offer, with what was seen, stands under Meeting.")
    return True


def _coaching(visit: Visit, school: Row, _: Place) -> bool:
    rows = look.coaching_by_term(visit.scope, str(school["school_id"]))
    if rows.empty:
        return False
    evidence.table(plain_tables.coaching_table(rows), "Rounds of coaching by term")
    return True


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
    evidence.table(table.head(MOST), "Lessons given and planned, week by week")
    evidence.take_away(table, "Download every week as CSV", "lessons-by-week")
    return True


def _weakest_step(visit: Visit, school: Row, place: Place) -> bool:
    rows = ask.routines(visit.scope, str(school["school_id"]))
    found = rows[rows["routine_id"] == place.routine].to_dict("records")
    if not found:
        return False
    html.facts(plain_tables.step_facts(found[0]))
    return True


def _visits(visit: Visit, school: Row, place: Place) -> bool:
    rows = support.visits(visit.scope, str(school["school_id"]), place.term)
    if rows.empty:
        return False
    words.lead(visits_sentence(rows))
    names = routine_names(visit, school)
    evidence.table(visit_table(rows.head(MOST), names, by_class=True), "The latest visits")
    return True


def _agreement(visit: Visit, school: Row, place: Place) -> bool:
    rows = support.agreement(visit.scope, str(school["school_id"]), place.term)
    evidence.table(watching.agreement_table(rows), "How far two observers agree")
    words.note(watching.KAPPA_NOTE)
    return not rows.empty


def _observers(visit: Visit, school: Row, _: Place) -> bool:
    rows = support.observers(visit.scope, str(school["school_id"]))
    evidence.table(watching.observers_table(rows), "How each observer sees, by key")
    return not rows.empty


def _visits_needed(visit: Visit, school: Row, _: Place) -> bool:
    rows = ask.dependability(visit.scope, str(school["school_id"]))
    every = tuple(range(1, 13))
    evidence.table(watching.dependability_table(rows, every), "How far other visits tell the same")
    return not rows.empty


def _spread(visit: Visit, school: Row, place: Place) -> bool:
    rows = ask.spread(visit.scope, str(school["school_id"]), place.term, "responsiveness")
    table = spread.table(rows, routine_names(visit, school))
    evidence.table(table, "How much classes differ, by routine")
    words.note(spread.NOTE)
    return not rows.empty


def _moved(visit: Visit, school: Row, _: Place) -> bool:
    rows = weeks.change_of_school(visit.scope, str(school["school_id"]), "responsiveness")
    table = change.table(rows, routine_names(visit, school), "week")
    evidence.table(table, "What has moved, routine by routine")
    words.note(change.NOTE)
    return not rows.empty


OF_SCHOOL: dict[str, Callable[[Visit, Row, Place], bool]] = {
    "classes_and_pupils": _classes_and_pupils,
    "open_offers": _open_offers,
    "coaching_rounds": _coaching,
    "rows_received": _rows_received,
    "late_entries": _late_entries,
    "lessons_by_week": _lessons,
    "weakest_step": _weakest_step,
    "visits_made": _visits,
    "watched_by_two": _agreement,
    "observers_compared": _observers,
    "visits_needed": _visits_needed,
    "class_spread": _spread,
    "what_moved": _moved,
}
