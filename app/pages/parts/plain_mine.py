"""Plain counts that only the teacher of a class reads."""

from __future__ import annotations

from app.access import Visit
from app.look import evidence, html, words
from app.pages.parts.choose import Row
from app.queries import room
from app.text import plain_tables, room_words
from app.text.places import Place


def turns(visit: Visit, school: Row, place: Place) -> bool:
    """The round that is running, and turns of the term."""
    del school, place
    rows, card = room.turns(visit.scope), room.card(visit.scope).to_dict("records")[0]
    if rows.empty:
        return False
    html.facts(plain_tables.turns_facts(rows, card))
    words.note("The turns of each child stand under Turns, in the order of the queue.")
    return True


def open_lines(visit: Visit, school: Row, place: Place) -> bool:
    """Planned lessons without a log."""
    del school, place
    rows = room.plan(visit.scope)
    rows = rows[rows["status"] == "not_logged"]
    if rows.empty:
        return False
    evidence.table(room_words.slots_table(rows), "Planned lessons without a log")
    return True


def teach_again(visit: Visit, school: Row, place: Place) -> bool:
    """What lies behind a good moment to teach again."""
    del school
    rows = room.teach_next(visit.scope)
    found = rows[rows["routine_id"] == place.routine].to_dict("records")
    if not found:
        return False
    html.facts(plain_tables.teach_facts(found[0]))
    return True
