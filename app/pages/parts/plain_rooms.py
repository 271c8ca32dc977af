"""Plain counts of one class: the rows behind each, for its teacher or the support team."""

from __future__ import annotations

from collections.abc import Callable

import pandas as pd

from app.access import Visit
from app.look import evidence, html, words
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import room, support, weeks
from app.queries import school as ask
from app.text import change, data_matters, plain_tables, room_words
from app.text.classes import visit_table
from app.text.places import Place

Showing = Callable[[Visit, Row, Place], bool]


def _names(visit: Visit, school: Row) -> dict[str, str]:
    rows = ask.routines(visit.scope, str(school["school_id"]))
    return dict(zip(rows["routine_id"], rows["name"], strict=True))


def _visits(visit: Visit, school: Row, place: Place) -> bool:
    terms = ask.terms(visit.scope, str(school["school_id"]))
    term = terms[terms["term_id"] == (place.term or school["term_id"])].to_dict("records")
    if not term:
        return False
    first, last = term[0]["first_on"], term[0]["last_on"]
    rows = look.visits_of_class(visit.scope, place.key, "*", first, last)
    if rows.empty:
        return False
    table = visit_table(rows, _names(visit, school), by_class=False)
    evidence.table(table, "Visits to this class")
    return True


def _cycles(visit: Visit, school: Row, place: Place) -> bool:
    rows = look.cycles_of_class(visit.scope, place.key, place.routine)
    if rows.empty:
        return False
    table = plain_tables.cycles_table(rows, _names(visit, school))
    evidence.table(table, "Rounds of coaching of this class")
    return True


def _checks(visit: Visit, school: Row, place: Place) -> bool:
    if visit.reader.role == "teacher":
        checks, audits = pd.DataFrame(), room.draw_audits(visit.scope, place.term)
    else:
        checks = look.turn_checks(visit.scope, place.key, place.term)
        audits = support.draw_audits(visit.scope, str(school["school_id"]), place.term)
        audits = audits[audits["class_id"] == place.key]
    if not checks.empty:
        evidence.table(plain_tables.checks_table(checks), "What the replay looked for")
    if not audits.empty:
        words.note(
            "Turns set against many honest draws of the same days, simulated by the declared way."
        )
        evidence.table(data_matters.audits_table(audits), "Whether turns fell as declared")
    return not (checks.empty and audits.empty)


def _turns(visit: Visit, school: Row, place: Place) -> bool:
    del school, place
    rows, card = room.turns(visit.scope), room.card(visit.scope).to_dict("records")[0]
    if rows.empty:
        return False
    html.facts(plain_tables.turns_facts(rows, card))
    words.note("The turns of each child stand under Turns, in the order of the queue.")
    return True


def _open_lines(visit: Visit, school: Row, place: Place) -> bool:
    del school, place
    rows = room.plan(visit.scope)
    rows = rows[rows["status"] == "not_logged"]
    if rows.empty:
        return False
    evidence.table(room_words.slots_table(rows), "Planned lessons without a log")
    return True


def _teach_again(visit: Visit, school: Row, place: Place) -> bool:
    del school
    rows = room.teach_next(visit.scope)
    found = rows[rows["routine_id"] == place.routine].to_dict("records")
    if not found:
        return False
    html.facts(plain_tables.teach_facts(found[0]))
    return True


def _moved(visit: Visit, school: Row, place: Place) -> bool:
    rows = weeks.change_of_class(visit.scope, place.key, "responsiveness")
    table = change.table(rows, _names(visit, school), "visit")
    evidence.table(table, "What has moved, routine by routine")
    words.note(change.NOTE)
    return not rows.empty


# Who may open it, and what is shown.
OF_ROOM: dict[str, tuple[tuple[str, ...], Showing]] = {
    "visits_made": (("support", "teacher"), _visits),
    "coaching_change": (("support",), _cycles),
    "turn_checks": (("support", "teacher"), _checks),
    "turns_of_class": (("teacher",), _turns),
    "open_lines": (("teacher",), _open_lines),
    "what_moved": (("support", "teacher"), _moved),
    "teach_again": (("teacher",), _teach_again),
}
