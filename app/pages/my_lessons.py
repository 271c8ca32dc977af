"""Lessons: what was planned, what was given, what has no log yet."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.charts.range_bar import range_bar, range_words
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, catch_up, choose
from app.pages.parts.choose import Row
from app.queries import measures, room
from app.queries import school as ask
from app.text import room_words, sentences
from app.text.headings import class_under, dates_of
from app.text.readings import pick

SHOWN = 30


def show() -> None:
    """The lessons of one's own class."""
    visit = here()
    card = room.card(visit.scope).to_dict("records")[0]
    heading, choices = around.top_of_room(visit)
    with choices:
        term = choose.the_term(ask.terms(visit.scope, card["school_id"]))
    with heading:
        words.title("Lessons", class_under(card))
    if term is None:
        states.nothing_here("The first term has not begun yet.")
        around.bottom(visit)
        return
    replay.body("given", visit.scope, partial(_given, visit, card, term))
    catch_up.every_open_slot(visit, term)
    replay.body("logged", visit.scope, partial(_logged, visit, term))
    around.bottom(visit)


def _given(visit: Visit, card: Row, term: Row) -> None:
    numbers = measures.by_class(visit.scope, card["class_id"])
    got = pick(numbers, measure_name="dose", routine_id="*", term_id=term["term_id"])
    with cards.card("given"):
        words.sentence(sentences.taught(got))
        evidence.picture(range_bar(got), range_words("Lessons given", got))
        words.note(sentences.taught_basis(got))
        words.note(f"{term['title']}, {dates_of(term)}.")
        evidence.one_number("Lessons given", got, "given")
    slots = room.plan(visit.scope)
    slots = slots[slots["term_id"] == term["term_id"]]
    due = slots[slots["status"] != "not_due"]
    with cards.card("slots"):
        words.card_title("Planned so far, and what became of it")
        words.note(room_words.unlogged_sentence(due[due["status"] == "not_logged"]))
        table = room_words.slots_table(due)
        evidence.as_table(table, "Planned lessons", "planned", "Show each of them")


def _logged(visit: Visit, term: Row) -> None:
    rows = room.lessons(visit.scope, term["term_id"])
    with cards.card("lessons"):
        words.card_title("Lessons logged, the latest first")
        if rows.empty:
            states.nothing_here("No lesson has been logged in this term yet.")
        else:
            table = room_words.lessons_table(rows)
            evidence.table(table, "Lessons logged, the latest first", shown=SHOWN, key="lessons")


show()
