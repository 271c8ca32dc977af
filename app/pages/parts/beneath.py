"""What the schoolwide page rests on: how much classes differ, and what came in."""

from __future__ import annotations

from app.access import Visit
from app.look import cards, evidence, words
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text import health, spread


def class_or_school(visit: Visit, school: Row, term: Row) -> None:
    """Whether classes differ beyond what chance between visits gives."""
    rows = ask.spread(visit.scope, school["school_id"], term["term_id"], "responsiveness")
    names = routine_names(visit, school)
    with cards.card("spread"):
        words.card_title("Class matter or school matter?")
        words.plain(spread.sentence(rows, names))
        table = spread.table(rows, names)
        evidence.as_table(table, "How much classes differ, by routine", "spread")
        words.note(spread.NOTE)


def data_health(visit: Visit, school: Row) -> None:
    """How many rows were taken in, and how many lessons were written down later."""
    total = ask.health_total(visit.scope, school["school_id"]).to_dict("records")[0]
    with cards.card("data"):
        words.card_title("What it rests on")
        words.plain(health.sentence(total, school["school_id"]))
        words.note(health.late_sentence(ask.health(visit.scope, school["school_id"])))
