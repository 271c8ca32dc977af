"""Visits of the term: where, when, what was seen."""

from __future__ import annotations

from app.access import here
from app.look import cards, evidence, states, words
from app.pages.parts import agenda, around, choose, watching
from app.queries import school as ask
from app.queries import support
from app.text.classes import visit_table, visits_sentence
from app.text.headings import school_heading

SHOWN = 20


def show() -> None:
    """The latest visits, and all of them to take away."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
    with heading:
        words.title(school_heading("Visits", term), "Where someone looked, and when.")
    if term is None:
        states.nothing_here("The first term has not begun yet.")
    else:
        rows = support.visits(visit.scope, school["school_id"], term["term_id"])
        names = agenda.routine_names(visit, school)
        with cards.card("visits"):
            words.lead(visits_sentence(rows))
            if rows.empty:
                states.nothing_here("A short visit to a few rooms is enough to begin.")
            else:
                words.note("The latest visits. One visit says little: read several together.")
                table = visit_table(rows, names, by_class=True)
                evidence.table(table, "The latest visits", shown=SHOWN, key="visits")
        watching.together(visit, school, term)
    around.bottom(visit)


show()
