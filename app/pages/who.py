"""Who can see what: said to everybody, in the same words."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, words
from app.pages.parts import around
from app.text import cautions
from app.text.readers import SEES, sees_table


def show() -> None:
    """Each reader and what is theirs; the present one is named."""
    visit = here()
    heading, _ = around.top(visit)
    with heading:
        words.title("Who can see what", "The same answer for every reader.")
    replay.body("who", visit.scope, partial(_body, visit))
    around.bottom(visit)


def _body(visit: Visit) -> None:
    with cards.card("who"):
        words.lead(f"You are reading as: **{SEES[visit.reader.role][0]}**.")
        evidence.table(sees_table(), "Who can see what", has_long_text=True)
        words.note(
            "Names of children stand only in the pages of their own class. Numbers about fewer "
            "people than the school’s setting are withheld, and so is any number from which a "
            "withheld one could be worked out."
        )
    with cards.card("use"):
        words.card_title("What it is for, and what it is not for")
        for text in cautions.EVERY:
            words.plain(text)


show()
