"""The parts of a teacher's first page."""

from __future__ import annotations

from app.access import Visit
from app.charts.stave import Stave
from app.charts.stave_looks import changes_of, look_of_year
from app.look import cards, words
from app.pages.parts import staves
from app.pages.parts.choose import Row
from app.queries import room, support, weeks
from app.queries import school as ask
from app.text import offers, room_words
from app.text.routines import wording


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


def did_these_happen(visit: Visit) -> None:
    """Planned lessons without a log."""
    rows = room.plan(visit.scope)
    open_slots = rows[rows["status"] == "not_logged"]
    with cards.card("happened", even=True):
        words.question("Did these happen?")
        words.sentence(room_words.unlogged_sentence(open_slots))
        words.lines(room_words.unlogged_lines(open_slots))
        words.note(
            "A missing log is not counted as “not taught”. Add it to your next lessons sheet."
        )


def offers_of_help(visit: Visit) -> None:
    """What the team would offer, shown to the teacher first."""
    rows = room.offers(visit.scope)
    open_rows = rows[rows["state_code"] == "offer"].to_dict("records")
    if not open_rows:
        return
    names = room_words.routine_names(room.teach_next(visit.scope))
    with cards.card("help"):
        words.card_title("A hand, if you would like one")
        for row in open_rows:
            words.plain(offers.what_was_seen(row, names.get(row["routine_id"], "a routine")))
            words.plain(offers.what_might_help(row).replace("The teacher may", "You may"))
            words.note(offers.how_sure(row))
        words.note("You see this before the support team talks about it.")


def own_terms(visit: Visit, card: Row) -> None:
    """Every routine of the class over the year, against its own past."""
    scope = visit.scope
    rows = weeks.by_class(scope, card["class_id"], "responsiveness")
    routines = ask.routines(scope, card["school_id"]).to_dict("records")
    terms, pauses = ask.terms(scope, card["school_id"]), ask.breaks(scope, card["school_id"])
    marks = support.marks(scope, card["class_id"])

    def look(routine: Row, is_first: bool, is_last: bool) -> Stave:
        changed = changes_of(marks, routine["routine_id"], "marked_on", "label")
        changed += changes_of(marks, "*", "marked_on", "label") if is_last else []
        line = float(card["criterion"])
        return look_of_year(line, pauses, terms, changed, is_first=is_first, is_last=is_last)

    with cards.card("terms"):
        words.card_title("My terms, beside each other")
        words.note("Your class against its own past. A note is one week’s visits with its range.")
        year_end = terms["last_on"].max()
        staves.by_routine(rows, routines, look, "my-terms", wording, year_end)
