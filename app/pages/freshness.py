"""Freshness: how far each kind of data reaches, and which class has gone quiet."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, choose
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import steward
from app.text import health


def show() -> None:
    """Last day and last file of each kind of data; gaps by class."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
        term = choose.the_term(ask.terms(visit.scope, school["school_id"]))
    with heading:
        words.title("Freshness", "How far the data reach, seen from the day of the build.")
    replay.body("freshness", visit.scope, partial(_body, visit, term))
    around.bottom(visit)


def _body(visit: Visit, term: Row | None) -> None:
    rows = steward.freshness(visit.scope)
    with cards.card("fresh"):
        words.card_title("By kind of data")
        if rows.empty:
            states.nothing_here("No file has been received yet.")
        else:
            evidence.table(health.freshness_table(rows), "How fresh each kind of data is")
    gaps = steward.completeness(visit.scope, term["term_id"] if term else "")
    missing = gaps[gaps["missing_count"] > 0]
    with cards.card("gaps"):
        words.card_title("What has not come yet, by class")
        words.note("Missing is not zero: it counts neither as taught nor as not taught.")
        if missing.empty:
            states.nothing_here("Nothing is missing in this term.")
        else:
            table = health.gaps_table(missing)
            evidence.table(table, "What has not come yet, by class", shown=40, key="gaps")


show()
