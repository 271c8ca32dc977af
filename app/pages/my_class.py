"""My class: who waits for a turn, a good moment to teach again, did these happen, my own terms."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, replay, words
from app.pages.parts import (
    around,
    my_data,
    my_decisions,
    my_families,
    my_offers,
    my_room,
    my_terms,
    paper,
)
from app.pages.parts.choose import Row
from app.queries import room
from app.text.headings import class_under, week_of_term


def show() -> None:
    """The teacher's first page; only her own class is on her shelf."""
    visit = here()
    card = room.card(visit.scope).to_dict("records")[0]
    heading, _ = around.top_of_room(visit)
    with heading:
        words.title(f"My class, {week_of_term(card).lower()}", class_under(card))
    first, second, third = cards.columns(1, 1, 1)
    with first:
        my_room.waiting(visit, card)
    with second:
        my_room.teach_again(visit)
    with third:
        my_room.did_these_happen(visit, card)
    my_offers.offers_of_help(visit)
    my_decisions.decided(visit)
    my_offers.records(visit)
    replay.body("my-terms", visit.scope, partial(_terms, visit, card))
    paper.for_the_room(visit, card)
    my_data.take_my_data(visit)
    around.bottom(visit)


def _terms(visit: Visit, card: Row) -> None:
    my_terms.in_numbers(visit, card)
    my_terms.own_terms(visit, card)
    my_families.at_home(visit, card)


show()
