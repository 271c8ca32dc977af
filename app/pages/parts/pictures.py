"""The pictures of the schoolwide page: staves, grades against their own past, tiers."""

from __future__ import annotations

from app.access import Scope, Visit
from app.charts.bars import bars, bars_words
from app.charts.pairs import pairs, pairs_of, pairs_words
from app.look import cards, evidence, states, words
from app.pages.parts import beneath, staves
from app.pages.parts.choose import Row
from app.pages.parts.stave_groups import Group, drawn
from app.pages.parts.term_looks import look_of_rewordings
from app.queries import measures, weeks
from app.queries import school as ask
from app.queries.kept import kept
from app.text import tables, tiers
from app.text.routines import caption


def every_routine(visit: Visit, school: Row, term: Row) -> None:
    """Every routine of the school, week by week of one term."""
    scope, school_id = visit.scope, school["school_id"]
    with cards.card("every-routine"):
        words.card_title("Every routine, week by week")
        words.note(
            "A note is one week’s visits with its range: how often children did as agreed, or in "
            "an accepted other way, when someone looked."
        )
        staves.by_routine(_weeks(scope, school_id, term["term_id"], school, term), "school")
        change = weeks.change_of_school(scope, school_id, "responsiveness")
        routines = ask.routines(scope, school_id).to_dict("records")
        staves.moved(visit, school_id, change, routines, "week", "school")


@kept
def _weeks(scope: Scope, school_id: str, term_id: str, _school: Row, _term: Row) -> Group:
    rows = weeks.by_school(scope, school_id, "responsiveness")
    # What stands under a routine's name is of the present term.
    routines = ask.routines(scope, school_id).assign(term_id=_school["term_id"]).to_dict("records")
    of_term = rows[rows["term_id"] == term_id]
    look = look_of_rewordings(scope, _school, _term)
    return drawn(of_term, routines, look, caption, _term["last_on"])


def grades_and_tiers(visit: Visit, school: Row, term: Row) -> None:
    """Each grade beside its own last term; support given in each tier."""
    scope, school_id, term_id = visit.scope, school["school_id"], term["term_id"]
    found = measures.by_grade(scope, school_id, term_id, "responsiveness")
    found = found[found["routine_id"] == "*"]
    with cards.card("grades"):
        words.card_title("Grades")
        words.note("How each grade stands to its own last term, not to the others.")
        if found.empty:
            states.nothing_here("No grade has been visited yet in this term.")
        else:
            rows = pairs_of(found, "grade_name")
            said = pairs_words("Grades, this term and last", rows)
            evidence.picture(pairs(rows, float(school["criterion"])), said)
            evidence.legend("before", "now", "line")
            evidence.as_table(tables.pairs_table(found, "grade_name", "Grade"), said, "grades")
    school_rows = measures.by_school(scope, school_id, term_id)
    given = tiers.given(school_rows, measures.by_tier(scope, school_id, term_id))
    with cards.card("tiers"):
        words.card_title("Three tiers")
        words.note("Lessons and support sessions given, of those planned.")
        said = bars_words("Given of those planned", given)
        evidence.picture(bars(given), said)
        words.note(tiers.not_shown(given))
        evidence.as_table(tables.named_table(given, "Tier"), said, "tiers")
    beneath.class_or_school(visit, school, term)
    beneath.data_health(visit, school)
