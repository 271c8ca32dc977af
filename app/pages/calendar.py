"""Calendar: what was taught and taught again, week by week, with the breaks."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, calendars, choose
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text import teaching
from app.text.headings import school_heading, school_under


def show() -> None:
    """The year of teaching."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
    with heading:
        words.title(school_heading("Calendar of teaching", None), school_under(school, None))
    replay.body("calendar", visit.scope, partial(_body, visit, school))
    around.bottom(visit)


def _body(visit: Visit, school: Row) -> None:
    rows = ask.teaching(visit.scope, school["school_id"])
    every = rows[rows["lesson_kind"] == "*"]
    with cards.card("calendar"):
        words.lead(teaching.summary(every))
        if every.empty:
            states.nothing_here("When lessons are planned or logged, they will stand here.")
        else:
            words.note(
                "A bar is the number of lessons given in the school that week, beside the plan."
            )
            calendars.drawn(visit, school, every, "calendar")
    if not every.empty:
        with cards.card("kinds"):
            words.card_title("First teaching and teaching again")
            words.note("How many lessons of each kind were given this year so far.")
            evidence.table(teaching.kinds_table(rows), "Lessons by routine and kind")
    pauses = ask.breaks(visit.scope, school["school_id"])
    if not pauses.empty:
        with cards.card("breaks"):
            words.card_title("Breaks")
            words.note("The first days after a break are the time to teach a routine again.")
            words.chips(teaching.break_words(pauses))


show()
