"""Visits of the term: where to look next, whether observers see the same, what was seen."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import agenda, around, choose, watching
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support
from app.text.classes import visit_table, visits_sentence
from app.text.headings import school_heading
from app.text.looking import NEXT_NOTE, next_sentence

SHOWN = 10


def show() -> None:
    """What a coach asks first, then the latest visits, and all of them to take away."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
    with heading:
        words.title(
            school_heading("Visits", term),
            "Where someone looked, whether observers see the same, and where to look next.",
        )
    if term is None:
        states.nothing_here("The first term has not begun yet.")
    else:
        replay.body("visits", visit.scope, partial(_body, visit, school, term))
    around.bottom(visit)


def _body(visit: Visit, school: Row, term: Row) -> None:
    rows = support.visits(visit.scope, school["school_id"], term["term_id"])
    names = agenda.routine_names(visit, school)
    with cards.card("next"):
        words.card_title("Where to look next")
        words.lead(visits_sentence(rows))
        words.plain(next_sentence(support.classes(visit.scope, school["school_id"])))
        words.note(NEXT_NOTE)
    watching.together(visit, school, term)
    with cards.card("visits"):
        words.card_title("The latest visits")
        if rows.empty:
            states.nothing_here("A short visit to a few rooms is enough to begin.")
        else:
            words.note("One visit says little: read several together.")
            table = visit_table(rows, names, by_class=True)
            evidence.table(table, "The latest visits", shown=SHOWN, key="visits")


show()
