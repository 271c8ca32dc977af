"""The parts of a teacher's first page."""

from __future__ import annotations

from app.access import Visit
from app.look import cards, words
from app.pages.parts import catch_up
from app.pages.parts.choose import Row
from app.queries import room
from app.text import catch_up as say
from app.text import room_words


def waiting(visit: Visit, card: Row) -> None:
    """Who is waiting for a turn, by name: these names stand nowhere else."""
    rows = room.turns(visit.scope)
    with cards.card("waiting", even=True):
        words.question("Waiting for a turn")
        words.sentence(room_words.waiting_sentence(rows, card))
        words.chips(room_words.waiting_names(rows))
        words.note(room_words.round_note(card))


def teach_again(visit: Visit) -> None:
    """One routine for which this is a good moment, and why."""
    rows = room.teach_next(visit.scope)
    with cards.card("again", even=True):
        words.question("A good moment to teach again")
        words.sentence(room_words.again_sentence(rows))
        words.note(room_words.again_reason(rows))
        words.note(room_words.again_others(rows))


def did_these_happen(visit: Visit, card: Row) -> None:
    """Planned lessons without a log, those of this week first."""
    every = room.plan_not_logged(visit.scope)
    slots, waiting_words = catch_up.open_slots(visit)
    of_week = say.of_this_week(slots, card["as_of_on"])
    with cards.card("happened", even=True):
        words.question("Did these happen?")
        words.sentence(room_words.unlogged_sentence(every))
        catch_up.said()
        words.note(say.week_note(of_week))
        words.chips(say.week_chips(of_week))
        catch_up.whole_week(visit, of_week)
        words.note(waiting_words)
        cards.way("my_lessons", "Answer one by one, under Lessons")
        words.note("A missing log is not counted as “not taught”.")
