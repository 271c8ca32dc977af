"""Plain counts of one class: the rows behind each, for its teacher or the support team."""

from __future__ import annotations

from collections.abc import Callable

from app.access import Visit
from app.look import evidence, words
from app.pages.parts import plain_decisions, plain_draws, plain_mine
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import school as ask
from app.queries import weeks
from app.text import change, plain_tables
from app.text.classes import visit_table
from app.text.places import Place

Showing = Callable[[Visit, Row, Place], bool]


def _visits(visit: Visit, school: Row, place: Place) -> bool:
    terms = ask.terms(visit.scope, str(school["school_id"]))
    term = terms[terms["term_id"] == (place.term or school["term_id"])].to_dict("records")
    if not term:
        return False
    first, last = term[0]["first_on"], term[0]["last_on"]
    rows = look.visits_of_class(visit.scope, place.key, "*", first, last)
    if rows.empty:
        return False
    table = visit_table(rows, routine_names(visit, school), by_class=False)
    evidence.table(table, "Visits to this class")
    return True


def _cycles(visit: Visit, school: Row, place: Place) -> bool:
    rows = look.cycles_of_class(visit.scope, place.key, place.routine)
    if rows.empty:
        return False
    table = plain_tables.cycles_table(rows, routine_names(visit, school))
    evidence.table(table, "Rounds of coaching of this class")
    return True


def _moved(visit: Visit, school: Row, place: Place) -> bool:
    rows = weeks.change_of_class(visit.scope, place.key, "responsiveness")
    until = ask.held_until(visit.scope, str(school["school_id"]), "responsiveness")
    table = change.table(rows, routine_names(visit, school), "visit", until)
    evidence.table(table, "What has moved, routine by routine")
    words.note(change.NOTE)
    return not rows.empty


# Who may open it, and what is shown.
OF_ROOM: dict[str, tuple[tuple[str, ...], Showing]] = {
    "visits_made": (("support", "teacher"), _visits),
    "coaching_change": (("support",), _cycles),
    "since_decision": (("support", "teacher"), plain_decisions.made),
    "turn_checks": (("support", "teacher"), plain_draws.checks),
    "turns_of_class": (("teacher",), plain_mine.turns),
    "open_lines": (("teacher",), plain_mine.open_lines),
    "what_moved": (("support", "teacher"), _moved),
    "teach_again": (("teacher",), plain_mine.teach_again),
}
