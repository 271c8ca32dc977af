"""The page of a number that stands before or since a decision: the decisions, and the visits."""

from __future__ import annotations

from app.access import Visit
from app.look import evidence, words
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import number as look
from app.queries import school as ask
from app.queries import support
from app.text import decisions, own_decisions
from app.text.classes import visit_table
from app.text.places import Place


def made(visit: Visit, school: Row, place: Place) -> bool:
    """Every decision of the year about the line, and the visits that it is made of."""
    rows = support.decisions_of_class(visit.scope, place.key, place.routine).to_dict("records")
    if not rows:
        return False
    said = own_decisions.IN_SHORT if visit.reader.role == "teacher" else decisions.DECISION
    table = decisions.actions_table(rows, routine_names(visit, school), said)
    evidence.table(table, "Decisions of the year, before and since")
    terms = ask.terms(visit.scope, str(school["school_id"]))
    first, last = terms["first_on"].min(), terms["last_on"].max()
    seen = look.visits_of_class(visit.scope, place.key, place.routine, first, last)
    if not seen.empty:
        words.question("The visits of the year")
        table = visit_table(seen, routine_names(visit, school), by_class=False)
        evidence.table(table, "Visits of the year to this class")
    return True
