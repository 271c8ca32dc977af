"""A teacher's routines over the year, against her class's own past."""

from __future__ import annotations

from app.access import Scope, Visit
from app.charts.stave import Stave
from app.charts.stave_looks import class_changes, look_of_year, spans
from app.look import cards, evidence, words
from app.pages.parts import stave_groups, staves
from app.pages.parts.choose import Row
from app.queries import measures, support, weeks
from app.queries import school as ask
from app.queries.kept import kept
from app.text.routines import wording
from app.text.terms import terms_table


def in_numbers(visit: Visit, card: Row) -> None:
    """Three numbers of the class in every term of the year."""
    terms = ask.terms(visit.scope, card["school_id"])
    rows = measures.by_class(visit.scope, card["class_id"])
    table = terms_table(rows, terms)
    if table.empty:
        return
    with cards.card("terms-numbers"):
        words.card_title("My terms in numbers")
        words.note("Each with its range. Where two ranges overlap, the terms may well be alike.")
        evidence.table(table, "My terms in numbers", has_long_text=True)


def own_terms(visit: Visit, card: Row) -> None:
    """Every routine of the class over the year, against its own past."""
    scope, class_id = visit.scope, card["class_id"]
    with cards.card("terms"):
        words.card_title("My terms, beside each other")
        words.note("Your class against its own past. A note is one week’s visits with its range.")
        staves.by_routine(_weeks(scope, class_id, card), "my-terms")
        change = weeks.change_of_class(scope, class_id, "responsiveness")
        routines = ask.routines(scope, card["school_id"]).to_dict("records")
        staves.moved(visit, card["school_id"], change, routines, "visit", "my-terms")


@kept
def _weeks(scope: Scope, class_id: str, _card: Row) -> stave_groups.Group:
    school_id = _card["school_id"]
    terms, pauses = ask.terms(scope, school_id), spans(ask.breaks(scope, school_id))
    marks = support.marks(scope, class_id)

    def look(routine: Row, is_first: bool, is_last: bool) -> Stave:
        changed = class_changes(marks, routine["routine_id"], has_shared=is_last)
        line = float(_card["criterion"])
        return look_of_year(line, pauses, terms, changed, is_first=is_first, is_last=is_last)

    rows = weeks.by_class(scope, class_id, "responsiveness")
    routines = ask.routines(scope, school_id).to_dict("records")
    return stave_groups.drawn(rows, routines, look, wording, terms["last_on"].max())
