"""Data health: what came in, what waits, how fresh it is."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, choose
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text import health
from app.text.headings import school_under


def show() -> None:
    """What the numbers rest on, for a principal."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
    with heading:
        words.title("Data health", school_under(school, None))
    replay.body("health", visit.scope, partial(_body, visit, school))
    around.bottom(visit)


def _body(visit: Visit, school: Row) -> None:
    total = ask.health_total(visit.scope, school["school_id"]).to_dict("records")[0]
    rows = ask.health(visit.scope, school["school_id"])
    with cards.card("health"):
        words.lead(health.sentence(total, school["school_id"]))
        words.note(health.balance(rows))
        if rows.empty:
            states.nothing_here("No file has been received yet.")
        else:
            evidence.table(health.feeds_table(rows), "What came in, by kind of data")
            words.note(health.LATE_NOTE)


show()
