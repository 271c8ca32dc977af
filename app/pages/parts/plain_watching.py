"""Plain counts that rest on visits of the whole school."""

from __future__ import annotations

from app.access import Visit
from app.look import evidence, words
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support, weeks
from app.text import change, spread, watching
from app.text.classes import visit_table, visits_sentence
from app.text.places import Place

MOST = 60


def visits(visit: Visit, school: Row, place: Place) -> bool:
    """The latest visits of the term."""
    rows = support.visits(visit.scope, str(school["school_id"]), place.term)
    if rows.empty:
        return False
    words.lead(visits_sentence(rows))
    names = routine_names(visit, school)
    table = visit_table(rows, names, by_class=True)
    evidence.table(table, "The latest visits", shown=MOST)
    return True


def agreement(visit: Visit, school: Row, place: Place) -> bool:
    """How far two observers agree."""
    rows = support.agreement(visit.scope, str(school["school_id"]), place.term)
    evidence.table(watching.agreement_table(rows), "How far two observers agree")
    words.note(watching.KAPPA_NOTE)
    return not rows.empty


def observers(visit: Visit, school: Row, _: Place) -> bool:
    """How each observer sees, by key."""
    rows = support.observers(visit.scope, str(school["school_id"]))
    evidence.table(watching.observers_table(rows), "How each observer sees, by key")
    return not rows.empty


def visits_needed(visit: Visit, school: Row, _: Place) -> bool:
    """How far other visits would tell the same, after 1 to 12 of them."""
    rows = ask.dependability(visit.scope, str(school["school_id"]))
    every = tuple(range(1, 13))
    evidence.table(watching.dependability_table(rows, every), "How far other visits tell the same")
    return not rows.empty


def class_spread(visit: Visit, school: Row, place: Place) -> bool:
    """How much classes differ, by routine."""
    rows = ask.spread(visit.scope, str(school["school_id"]), place.term, "responsiveness")
    table = spread.table(rows, routine_names(visit, school))
    evidence.table(table, "How much classes differ, by routine")
    words.note(spread.NOTE)
    return not rows.empty


def moved(visit: Visit, school: Row, _: Place) -> bool:
    """What has moved since the newest wording."""
    rows = weeks.change_of_school(visit.scope, str(school["school_id"]), "responsiveness")
    until = ask.held_until(visit.scope, str(school["school_id"]), "responsiveness")
    table = change.table(rows, routine_names(visit, school), "week", until)
    evidence.table(table, "What has moved, routine by routine")
    words.note(change.NOTE)
    return not rows.empty
