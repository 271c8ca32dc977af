"""The evidence behind one offer, against the class's own past."""

from __future__ import annotations

from app.access import Visit
from app.charts.sides import sides, sides_words
from app.charts.stave import stave_and_words
from app.charts.stave_looks import class_changes, look_of_year, spans
from app.look import cards, evidence, states, words
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import measures, support, weeks
from app.queries import school as ask
from app.text import agenda, fidelity, offer_course, offers, tables
from app.text.dates import as_date


def evidence_of(visit: Visit, school: Row, term: Row, row: Row | None) -> None:
    """What was seen, how sure we are, what might help; the teacher may always decline."""
    with cards.card("evidence"):
        if row is None:
            states.nothing_here("When an offer is open, what was seen stands here.")
            return
        names = routine_names(visit, school)
        routine = names.get(row["routine_id"], "the routine")
        words.card_title(agenda.offer_name(row, names))
        words.lead(offers.what_was_seen(row, routine))
        _chart(visit, school, row, routine)
        _three_words(visit, term, row)
        words.note(offers.signs(row))
        words.note(offer_course.against_luck(row))
        reviews = support.reviews(visit.scope, row["class_id"], row["routine_id"])
        table = offer_course.reviews_table(reviews)
        evidence.as_table(table, "What each review found", "reviews", "What each review found")


def _chart(visit: Visit, school: Row, row: Row, routine: str) -> None:
    rows = weeks.by_class(visit.scope, row["class_id"], row["measure_name"])
    rows = rows[rows["routine_id"] == row["routine_id"]]
    marks = support.marks(visit.scope, row["class_id"])
    changed = class_changes(marks, row["routine_id"], has_shared=True)
    line, pauses = float(school["criterion"]), spans(ask.breaks(visit.scope, school["school_id"]))
    terms = ask.terms(visit.scope, school["school_id"])
    look = look_of_year(line, pauses, terms, changed, is_first=True, is_last=True, height=150)
    spec, said = stave_and_words(routine, rows, look, as_date(terms["last_on"].max()))
    evidence.picture(spec, said)
    evidence.legend(*evidence.STAVE_KEY, "band", *(["change"] if changed else []))
    named = {row["routine_id"]: routine}
    evidence.as_table(tables.weeks_table(rows, named), "Week by week", "offer")


def _three_words(visit: Visit, term: Row, row: Row) -> None:
    rows = measures.by_class(visit.scope, row["class_id"])
    rows = rows[(rows["routine_id"] == row["routine_id"]) & (rows["term_id"] == term["term_id"])]
    several, weakest = fidelity.sides_of(rows), fidelity.weakest_of(rows)
    places = cards.columns(1.2, 1, 1)
    with places[0]:
        words.question("Five sides of it")
        evidence.picture(sides(several, weakest), sides_words(several, weakest))
        evidence.as_table(tables.named_table(several, "Side"), "The sides of it", "offer-sides")
    with places[1]:
        words.question("How sure")
        words.plain(offers.how_sure(row))
        words.note(offer_course.since_when(row))
    with places[2]:
        words.question("What might help")
        words.plain(offers.what_might_help(row))
        words.note(offers.next_look(row))
        words.note(offer_course.closing(row))
