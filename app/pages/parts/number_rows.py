"""The rows that a number was made of, for those readers who may see them."""

from __future__ import annotations

from datetime import date, timedelta

from app.access import Visit
from app.look import cards, evidence, states, words
from app.pages.parts.number_parts import Found
from app.queries import number as look
from app.queries import school as ask
from app.text import number_words as say
from app.text import room_words
from app.text.classes import visit_table
from app.text.dates import as_date

SHOWN = 60
_NOT_YOURS = {
    "principal": "Single visits and lessons are not among what a principal can open: they belong "
    "to the class and to those who support it. Their counts stand above.",
    "steward": "Single visits and lessons are not among what a data steward can open. Their "
    "counts stand above.",
    "support": "Single rows of this kind stay with the teacher of the class. Their counts stand "
    "above.",
    "teacher": "Rows of other classes are not among what a teacher can open. The counts stand "
    "above.",
}


def made_of(visit: Visit, found: Found) -> None:
    """The visits or lessons behind it, or why they are not shown."""
    days = _days(found)
    with cards.card("rows"):
        words.card_title("The rows behind it")
        if found.got.is_withheld:
            words.plain("They are withheld together with the number.")
        elif days is None:
            words.plain(
                "The single days of this window are not listed; the term’s own page has them."
            )
        elif not _shown(visit, found, *days):
            words.plain(_NOT_YOURS[visit.reader.role])


def _days(found: Found) -> tuple[date, date] | None:
    """First and last day of the number's window, None where they differ by class."""
    if found.place.window == "last_20" or found.term is None:
        return None
    first, last = as_date(found.term["first_on"]), as_date(found.term["last_on"])
    if found.place.window == "week":
        first = as_date(found.place.week)
        last = None if first is None else first + timedelta(days=6)
    return None if first is None or last is None else (first, last)


def _shown(visit: Visit, found: Found, first: date, last: date) -> bool:
    kind, level = str(found.definition["rests_on"]), found.place.level
    role = visit.reader.role
    if kind == "visits" and role == "support" and level in ("class", "grade", "school"):
        return _visits(visit, found, first, last)
    if role == "teacher" and level == "class" and kind in ("visits", "lessons", "draws"):
        return {"visits": _visits, "lessons": _lessons, "draws": _draws}[kind](
            visit, found, first, last
        )
    return False


def _visits(visit: Visit, found: Found, first: date, last: date) -> bool:
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
    evidence.table(table.head(SHOWN), "The visits behind this number")
    if len(table) > SHOWN:
        evidence.take_away(table, "Download every visit as CSV", "number-visits")
    return True


def _lessons(visit: Visit, found: Found, first: date, last: date) -> bool:
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


def _draws(visit: Visit, found: Found, first: date, last: date) -> bool:
    del visit, found, first, last
    words.plain("The turns of each child stand under Turns, in the order of the queue.")
    return True
