"""What a teacher reads about the decisions of the support team on her class."""

from __future__ import annotations

from app.access import Visit
from app.look import cards, evidence, words
from app.queries import room
from app.queries import school as ask
from app.text import decisions, own_decisions


def decided(visit: Visit) -> None:
    """What the support team decided about the class, with the days and what has moved since."""
    rows = room.decisions(visit.scope).to_dict("records")
    if not rows:
        return
    routines = ask.routines(visit.scope, str(rows[0]["school_id"]))
    names = dict(zip(routines["routine_id"], routines["name"], strict=True))
    rest = ask.setting(visit.scope, "offer_rest_days")
    now = own_decisions.still_open(rows)
    with cards.card("decided"):
        words.card_title(own_decisions.TITLE)
        if not now:
            words.plain("Nothing that was decided this year is still open.")
        for row in now:
            name = names.get(str(row["routine_id"]), "A routine")
            words.row_name(name, own_decisions.when_decided(row, rest))
            words.plain(decisions.what_moved(row))
            words.note(decisions.how_sure(row))
        words.note(own_decisions.NOTE)
        words.note(decisions.COMPARED)
        table = own_decisions.table(rows, names)
        evidence.as_table(table, "Decisions of this year", "decisions", "Decisions of this year")
