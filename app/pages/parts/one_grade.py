"""Grades: small pairs for each routine, and one grade's staves."""

from __future__ import annotations

from app.access import Visit
from app.charts.pairs import pairs, pairs_of, pairs_words
from app.look import cards, evidence, states, words
from app.pages.parts.choose import Row
from app.queries import measures
from app.queries import school as ask
from app.text import tables


def every_routine(visit: Visit, school: Row, term: Row) -> None:
    """For each routine, the grades beside their own last term."""
    scope, school_id = visit.scope, school["school_id"]
    rows = measures.by_grade(scope, school_id, term["term_id"], "responsiveness")
    routines = ask.routines(scope, school_id).to_dict("records")
    known = set(rows[rows["value"].notna()]["routine_id"])
    seen = [r for r in routines if r["routine_id"] in known]
    with cards.card("grade-pairs"):
        words.card_title("Each grade beside its own last term")
        words.note("Grades are listed by age. They are not compared with each other.")
        if not seen:
            states.nothing_here("No grade has been visited yet in this term.")
            return
        places = cards.small_charts(len(seen))
        for number, routine in enumerate(seen):
            own = rows[rows["routine_id"] == routine["routine_id"]]
            pair = pairs_of(own, "grade_name")
            with places[number]:
                words.row_name(routine["name"])
                spec = pairs(pair, float(school["criterion"]))
                evidence.picture(spec, pairs_words(routine["name"], pair))
        evidence.legend("before", "now", "few", "line")
        names = {routine["routine_id"]: routine["name"] for routine in seen}
        shown = rows[rows["routine_id"].isin(list(names))]
        shown = shown.assign(routine=shown["routine_id"].map(names) + ", " + shown["grade_name"])
        table = tables.pairs_table(shown, "routine", "Routine and grade")
        evidence.as_table(table, "Each grade beside its own last term", "grade-pairs")
