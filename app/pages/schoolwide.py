"""Schoolwide: is it being taught, does it hold, where would a hand be welcome."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, replay, states, words
from app.pages.parts import around, choose, headlines, pictures, prints
from app.queries import school as ask
from app.text.headings import school_heading, school_under


def show() -> None:
    """The principal's first page."""
    visit = here()
    heading, choices = around.top(visit, 1.75)
    with choices, prints.beside():
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
        prints.brief(visit, school, term)
    with heading:
        words.title(school_heading("Schoolwide", term), school_under(school, term))
    if term is None:
        states.nothing_here("The first term has not begun yet. Its numbers will stand here.")
    else:
        replay.body("schoolwide", visit.scope, partial(_body, visit, school, term))
    around.bottom(visit)


def _body(visit: Visit, school: choose.Row, term: choose.Row) -> None:
    headlines.three_questions(visit, school, term)
    left, right = cards.grid(1.65, 1)
    with left:
        pictures.every_routine(visit, school, term)
    with right:
        pictures.grades_and_tiers(visit, school, term)


show()
