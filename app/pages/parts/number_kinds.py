"""The rows behind a number, by what it is made of."""

from __future__ import annotations

from datetime import date

from app.access import Visit
from app.look import evidence, states, words
from app.pages.parts.number_look import Found
from app.queries import number as look
from app.queries import school as ask
from app.text import number_words as say
from app.text import room_words
from app.text.classes import visit_table

SHOWN = 60


def visits(visit: Visit, found: Found, first: date, last: date) -> bool:
    """Visits to the class, or to the classes of the grade or school."""
    scope, place, school = visit.scope, found.place, str(found.row["school_id"])
    if place.level == "class":
        rows = look.visits_of_class(scope, place.key, place.routine, first, last)
    else:
        grade = place.key if place.level == "grade" else ""
        rows = look.visits_of_school(scope, school, grade, place.routine, first, last)
    if rows.empty:
        states.nothing_here("No visit of these days is in this build.")
        return True
    routines = ask.routines(scope, school)
    names = dict(zip(routines["routine_id"], routines["name"], strict=True))
    table = visit_table(rows, names, by_class=place.level != "class")
    words.note(say.rows_sentence(len(rows), found.got))
    evidence.table(table, "The visits behind this number", shown=SHOWN, key="number-visits")
    return True


def lessons(visit: Visit, found: Found, first: date, last: date) -> bool:
    """Lessons planned and given in one's own class."""
    slots = look.slots(visit.scope, found.place.routine, first, last)
    given = look.lessons(visit.scope, found.place.routine, first, last)
    if slots.empty and given.empty:
        states.nothing_here("No lesson of these days is planned or logged.")
    if not slots.empty:
        words.question("Planned, and what became of it")
        evidence.table(room_words.slots_table(slots), "Planned lessons behind this number")
    if not given.empty:
        words.question("Lessons logged")
        evidence.table(room_words.lessons_table(given), "Lessons behind this number")
    return True


def draws(visit: Visit, found: Found, first: date, last: date) -> bool:
    """Turns carry names: they stand on the class's own page."""
    del visit, found, first, last
    words.plain("The turns of each child stand under Turns, in the order of the queue.")
    return True
