"""By grade: each grade beside its own last term, and one grade's routines week by week."""

from __future__ import annotations

from functools import partial

from app.access import here
from app.look import cards, replay, states, words
from app.pages.parts import around, choose, grade_weeks, one_grade
from app.queries import school as ask
from app.text.headings import school_heading, school_under


def show() -> None:
    """Every grade against its own past; one grade opened."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
    with heading:
        words.title(school_heading("By grade", term), school_under(school, term))
    if term is None:
        states.nothing_here("The first term has not begun yet.")
    else:
        draw = partial(one_grade.every_routine, visit, school, term)
        replay.body("grades", visit.scope, draw)
        left, _ = cards.columns(1, 3)
        with left:
            grade = choose.the_grade(ask.grades(visit.scope, school["school_id"]))
        if grade is not None:
            draw = partial(grade_weeks.opened, visit, school, term, grade)
            replay.body("grade", visit.scope, draw)
    around.bottom(visit)


show()
