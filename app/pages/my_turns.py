"""Turns: who has had one, who is waiting."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.charts.range_bar import range_bar, range_words
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, paper
from app.pages.parts.choose import Row
from app.queries import measures, room
from app.text import data_matters, room_words
from app.text.headings import class_under
from app.text.readings import pick


def show() -> None:
    """The turns of one's own class, in the order of the queue."""
    visit = here()
    card = room.card(visit.scope).to_dict("records")[0]
    heading, _ = around.top_of_room(visit)
    with heading:
        words.title("Turns", class_under(card))
    replay.body("turns", visit.scope, partial(_body, visit, card))
    paper.for_turns(visit, card)
    around.bottom(visit)


def _body(visit: Visit, card: Row) -> None:
    rows = room.turns(visit.scope)
    numbers = measures.by_class(visit.scope, card["class_id"])
    got = pick(numbers, measure_name="turn_coverage", routine_id="*", term_id=card["term_id"])
    with cards.card("turns"):
        words.sentence(room_words.turns_sentence(rows))
        if rows.empty:
            states.nothing_here(
                "When turns are drawn, the names stand here in the order of the queue."
            )
        else:
            if got.is_known:
                said = range_words("Children reached", got)
                evidence.picture(range_bar(got), said)
                evidence.one_number("Children reached", got, "coverage")
            words.note(room_words.round_note(card))
            words.note("In the order of the queue: the first is next. Every child may pass.")
            table = room_words.turns_table(rows)
            evidence.table(table, "Turns of each child, in the order of the queue", key="turns")
    audits = room.draw_audits(visit.scope, card["term_id"])
    if not audits.empty:
        with cards.card("audit"):
            words.card_title("Do the draws look as declared?")
            words.lines(data_matters.audit_sentence(row) for row in audits.to_dict("records"))
            words.note("A question for the box of cards, not for a child.")


show()
