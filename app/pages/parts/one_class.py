"""One class: its own staves over the term, and its numbers beside its own last term."""

from __future__ import annotations

from datetime import date

from app.access import Scope, Visit
from app.charts.stave_looks import class_changes
from app.look import cards, evidence, states, words
from app.pages.parts import stave_groups, staves
from app.pages.parts.choose import Row
from app.pages.parts.class_past import own_past
from app.pages.parts.term_looks import look_with
from app.queries import school as ask
from app.queries import support, weeks
from app.queries.kept import kept
from app.text import offer_course
from app.text.classes import class_note
from app.text.routines import wording


def opened(visit: Visit, school: Row, term: Row, row: Row) -> None:
    """The class against its own past, with the middle half of the school as context."""
    left, right = cards.grid(1.65, 1)
    with left:
        _staves(visit, school, term, row)
    with right:
        own_past(visit, school, term, row)
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
    ids = (school["school_id"], term["term_id"], row["class_id"])
    with cards.card("class-staves"):
        words.card_title(row["title"])
        words.note(class_note(row))
        staves.by_routine(_weeks(visit.scope, *ids, school, term), "class")
        routines = ask.routines(visit.scope, school["school_id"]).to_dict("records")
        change = weeks.change_of_class(visit.scope, row["class_id"], "responsiveness")
        staves.moved(visit, school["school_id"], change, routines, "visit", "class")


@kept
def _weeks(
    scope: Scope, school_id: str, term_id: str, class_id: str, _school: Row, _term: Row
) -> stave_groups.Group:
    rows, marks = weeks.by_class(scope, class_id, "responsiveness"), support.marks(scope, class_id)

    def changed(routine: Row, is_last: bool) -> list[tuple[date, str]]:
        return class_changes(marks, routine["routine_id"], has_shared=is_last)

    look = look_with(scope, _school, _term, changed)
    routines = ask.routines(scope, school_id).to_dict("records")
    of_term = rows[rows["term_id"] == term_id]
    return stave_groups.drawn(of_term, routines, look, wording, _term["last_on"])
