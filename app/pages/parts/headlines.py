"""The three questions on top of the schoolwide page."""

from __future__ import annotations

from app.access import Visit
from app.charts.range_bar import range_bar, range_words
from app.look import cards, evidence, words
from app.pages.parts.choose import Row
from app.queries import measures
from app.queries import school as ask
from app.text import matters, sentences
from app.text.readings import pick, pick_row


def three_questions(visit: Visit, school: Row, term: Row) -> None:
    """Is it being taught, does it hold, where would a hand be welcome."""
    rows = measures.by_school(visit.scope, school["school_id"], term["term_id"])
    columns = cards.columns(1, 1, 1)
    with columns[0], cards.card("taught", even=True):
        got = pick(rows, measure_name="dose", routine_id="*")
        words.question("Is it being taught?")
        words.sentence(sentences.taught(got))
        evidence.picture(range_bar(got), range_words("Lessons given", got))
        words.note(sentences.taught_basis(got))
        _meaning("dose")
        evidence.one_number("Lessons given", got, "taught")
    with columns[1], cards.card("holds", even=True):
        got = pick(rows, measure_name="responsiveness", routine_id="*")
        row = pick_row(rows, measure_name="responsiveness", routine_id="*")
        line = float(school["criterion"])
        words.question("Does it hold when someone looks?")
        words.sentence(sentences.holds(got))
        evidence.picture(range_bar(got, line), range_words("In place", got, line))
        words.note(sentences.holds_basis(got, *matters.seen_classes(row)))
        _meaning("responsiveness")
        evidence.one_number("In place", got, "holds")
    with columns[2], cards.card("hand", even=True):
        _hand(visit, school, term)


def _hand(visit: Visit, school: Row, term: Row) -> None:
    found = ask.matters(visit.scope, school["school_id"], term["term_id"])
    coaching = ask.coaching(visit.scope, school["school_id"])
    grades = ask.grades(visit.scope, school["school_id"])
    routines = ask.routines(visit.scope, school["school_id"])
    words.question("Where would a hand be welcome?")
    words.sentence(matters.offers_sentence(found, coaching, school["school_id"], term["term_id"]))
    words.chips(matters.matter_chips(found, grades, routines))
    words.note(matters.matter_note(found, grades, routines))


def _meaning(measure_name: str) -> None:
    cards.way("numbers", "How this is counted", measure=measure_name)
