"""Set aside: rows that wait for a correction or for a person's word."""

from __future__ import annotations

from app.access import here
from app.look import cards, evidence, states, words
from app.pages.parts import around
from app.queries import steward
from app.text import health

SHOWN = 60


def show() -> None:
    """Rows set aside, one line for each reason; their values stay in the correction sheets."""
    visit = here()
    heading, _ = around.top(visit)
    with heading:
        words.title("Set aside", "Nothing received is lost: these rows wait for a correction.")
    rows = steward.set_aside(visit.scope)
    with cards.card("aside"):
        words.lead(health.aside_sentence(rows))
        if rows.empty:
            states.nothing_here("Nothing is set aside.")
        else:
            words.note(
                "Correct them in the sheets of the corrections folder and load those again. A row "
                "that a person may release: roundelay release"
            )
            table = health.set_aside_table(rows)
            words.note(health.shown_note(SHOWN, rows))
            evidence.table(
                table.head(SHOWN), "Rows set aside, by file and line", has_long_text=True
            )
            evidence.take_away(table, "Download all as CSV", "set-aside")
    around.bottom(visit)


show()
