"""Set aside: rows that wait for a correction or for a person's word."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, desk, desk_held, desk_work
from app.queries import steward
from app.text import desk as told
from app.text import health

SHOWN = 60


def show() -> None:
    """Decisions that wait, then each reason; values of rows stay in the correction sheets."""
    visit = here()
    own = desk.desk_of(visit.reader)
    heading, _ = around.top(visit)
    with heading:
        words.title("Set aside", "Nothing received is lost: these rows wait for a correction.")
    desk.what_was_said()
    desk_work.at_work(own, "release")
    desk_held.decide(own)
    replay.body("set-aside", visit.scope, partial(_as_built, visit))
    around.bottom(visit)


def _as_built(visit: Visit) -> None:
    rows = steward.set_aside(visit.scope)
    with cards.card("aside"):
        words.card_title("As the build on show has it")
        words.lead(health.aside_sentence(rows))
        if rows.empty:
            states.nothing_here("Nothing is set aside.")
        else:
            words.note(told.ASIDE_NOTE)
            table = health.set_aside_table(rows)
            words.note(health.shown_note(SHOWN, rows))
            name = "Rows set aside, by file and line"
            evidence.table(table, name, has_long_text=True, shown=SHOWN, key="set-aside")


show()
