"""Plain counts of a school's classes, offers and coaching."""

from __future__ import annotations

from app.access import Visit
from app.look import evidence, words
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import school as ask
from app.text import plain_tables
from app.text.places import Place


def open_offers(visit: Visit, school: Row, place: Place) -> bool:
    """Offers and matters of the term."""
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


def coaching(visit: Visit, school: Row, _: Place) -> bool:
    """Rounds of coaching by term."""
    rows = look.coaching_by_term(visit.scope, str(school["school_id"]))
    if rows.empty:
        return False
    evidence.table(plain_tables.coaching_table(rows), "Rounds of coaching by term")
    return True


def classes_and_pupils(visit: Visit, school: Row, _: Place) -> bool:
    """Classes and pupils of each grade."""
    rows = ask.grades(visit.scope, str(school["school_id"]))
    evidence.table(plain_tables.grades_table(rows), "Classes and pupils of each grade")
    return True
