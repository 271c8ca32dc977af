"""By routine: its terms side by side, its weakest step, and when it was taught."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, replay, states, words
from app.pages.parts import around, choose, one_routine, routine_now
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text.headings import school_under
from app.text.routines import wording


def show() -> None:
    """One routine of the school at a time."""
    visit = here()
    heading, choices = around.top(visit, 1)
    with choices:
        school = choose.the_school(visit)
        routine = choose.the_routine(ask.routines(visit.scope, school["school_id"]))
        measure = one_routine.measure_choice(visit)
    terms = ask.terms(visit.scope, school["school_id"])
    if routine is None or terms.empty:
        with heading:
            words.title("By routine", school_under(school, None))
        states.nothing_here("No routine has been defined yet. Load the routines to see them here.")
        around.bottom(visit)
        return
    with heading:
        words.title(routine["name"], wording(routine))
    draw = partial(_body, visit, school, routine, measure)
    replay.body("routines", visit.scope, draw)
    around.bottom(visit)


def _body(visit: Visit, school: Row, routine: Row, measure: Row) -> None:
    terms = ask.terms(visit.scope, school["school_id"])
    one_routine.terms_side_by_side(visit, school, routine, terms, measure)
    left, right = cards.grid(1.2, 1)
    with left:
        routine_now.this_term(visit, school, routine, measure)
    with right:
        routine_now.weakest(visit, school, routine)
    routine_now.taught(visit, school, routine)


show()
