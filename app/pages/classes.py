"""Classes by name; one class opened with its own staves."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, choose, one_class
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support
from app.text.classes import class_table
from app.text.headings import school_under


def show() -> None:
    """Every class by name, never by a score."""
    visit = here()
    heading, choices = around.top(visit, 1.6)
    with choices:
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
        rows = support.classes(visit.scope, school["school_id"])
        chosen = choose.the_class(rows)
    with heading:
        words.title("Classes", school_under(school, None))
    if term is None or chosen is None:
        states.nothing_here("When classes and terms are loaded, the classes stand here by name.")
    else:
        replay.body("classes", visit.scope, partial(_body, visit, school, term, chosen))
    around.bottom(visit)


def _body(visit: Visit, school: Row, term: Row, chosen: Row) -> None:
    one_class.opened(visit, school, term, chosen)
    rows = support.classes(visit.scope, school["school_id"])
    with cards.card("classes"):
        words.card_title("All classes, by name")
        words.note("Visits of the present term. A class with few visits is not doing badly.")
        evidence.table(class_table(rows), "All classes, by name")


show()
