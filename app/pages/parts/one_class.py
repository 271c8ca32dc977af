"""One class: its own staves over the term, and its numbers beside its own last term."""

from __future__ import annotations

from app.access import Visit
from app.charts.pairs import pairs, pairs_of, pairs_words
from app.charts.stave import Stave
from app.charts.stave_looks import changes_of, look_of_term, spans, within
from app.look import cards, evidence, states, words
from app.pages.parts import staves
from app.pages.parts.choose import Row
from app.queries import measures, support, weeks
from app.queries import school as ask
from app.text import offer_course, tables
from app.text.classes import class_note
from app.text.routines import wording


def opened(visit: Visit, school: Row, term: Row, row: Row) -> None:
    """The class against its own past, with the middle half of the school as context."""
    left, right = cards.grid(1.65, 1)
    with left:
        _staves(visit, school, term, row)
    with right:
        _own_past(visit, school, term, row)
    _why_none(visit, school, term, row)


def _why_none(visit: Visit, school: Row, term: Row, row: Row) -> None:
    lines = support.offers_of_class(visit.scope, row["class_id"], term["term_id"])
    routines = ask.routines(visit.scope, school["school_id"])
    names = dict(zip(routines["routine_id"], routines["name"], strict=True))
    with cards.card("class-offers"):
        words.card_title("Offers, and why there is none")
        if lines.empty:
            states.nothing_here("No routine of this class has been reviewed in this term.")
            return
        table = offer_course.reasons_table(lines.to_dict("records"), names)
        evidence.table(table, "Every routine of the class, with its offer or why there is none")


def _staves(visit: Visit, school: Row, term: Row, row: Row) -> None:
    rows = weeks.by_class(visit.scope, row["class_id"], "responsiveness")
    marks = support.marks(visit.scope, row["class_id"])
    pauses = spans(ask.breaks(visit.scope, school["school_id"]))

    def look(routine: Row, is_first: bool, is_last: bool) -> Stave:
        changed = changes_of(marks, routine["routine_id"], "marked_on", "label")
        changed += changes_of(marks, "*", "marked_on", "label") if is_last else []
        changed = within(changed, term["first_on"], term["last_on"])
        line = float(school["criterion"])
        return look_of_term(line, pauses, term["last_on"], changed, has_dates=is_last)

    with cards.card("class-staves"):
        words.card_title(row["title"])
        words.note(class_note(row))
        routines = ask.routines(visit.scope, school["school_id"]).to_dict("records")
        of_term = rows[rows["term_id"] == term["term_id"]]
        staves.by_routine(of_term, routines, look, "class", wording, term["last_on"])
        change = weeks.change_of_class(visit.scope, row["class_id"], "responsiveness")
        staves.moved(change, routines, "visit", "class")


def _own_past(visit: Visit, school: Row, term: Row, row: Row) -> None:
    rows = measures.by_class(visit.scope, row["class_id"])
    rows = rows[(rows["term_id"] == term["term_id"]) & (rows["measure_name"] == "responsiveness")]
    routines = ask.routines(visit.scope, school["school_id"])[["routine_id", "name", "sort_order"]]
    named = routines.merge(rows, on="routine_id")
    with cards.card("class-past"):
        words.card_title("Beside its own last term")
        if named.empty:
            states.nothing_here("Nobody has looked yet in this term.")
            return
        found = pairs_of(named, "name")
        said = pairs_words(f"{row['title']}, this term and last", found)
        spec = pairs(found, float(school["criterion"]), name_width=148)
        evidence.picture(spec, said, "class-past")
        evidence.legend("before", "now", "few", "line")
        evidence.as_table(tables.pairs_table(named, "name", "Routine"), said, "class-past")
