"""Visits: who looked when, and what was seen, without the names of observers."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, choose
from app.pages.parts.choose import Row
from app.queries import room
from app.queries import school as ask
from app.text.classes import visit_table, visits_sentence
from app.text.headings import class_under


def show() -> None:
    """The visits to one's own class."""
    visit = here()
    card = room.card(visit.scope).to_dict("records")[0]
    heading, choices = around.top_of_room(visit)
    with choices:
        term = choose.the_term(ask.terms(visit.scope, card["school_id"]))
    with heading:
        words.title("Visits", class_under(card))
    if term is None:
        states.nothing_here("The first term has not begun yet.")
    else:
        replay.body("visits", visit.scope, partial(_body, visit, term))
    around.bottom(visit)


def _body(visit: Visit, term: Row) -> None:
    rows = room.visits(visit.scope, term["term_id"])
    names = dict(zip(rows["routine_id"], rows["routine_name"], strict=True))
    with cards.card("visits"):
        words.lead(visits_sentence(rows))
        if rows.empty:
            states.nothing_here("Nobody has looked in this term. Empty is not bad.")
        else:
            words.note("One visit says little: read several together.")
            table = visit_table(rows, names, by_class=False)
            evidence.table(table, "Visits to this class", key="my-visits")


show()
