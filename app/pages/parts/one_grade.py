"""Grades: small pairs for each routine, and one grade's staves."""

from __future__ import annotations

import streamlit as st

from app.access import Visit
from app.charts.pairs import pairs, pairs_of, pairs_words
from app.charts.stave import Stave
from app.charts.stave_looks import changes_of, look_of_term, spans, within
from app.look import cards, evidence, states, words
from app.pages.parts import staves
from app.pages.parts.choose import Row
from app.queries import measures, weeks
from app.queries import school as ask
from app.text import tables
from app.text.routines import wording

TOGETHER: Row = {"routine_id": "*", "name": "All routines together"}
SOME_LEFT_OUT = (
    "A routine has no row of its own where nobody looked, or where a week's figure would rest on "
    "so few looks that it could point at one room."
)


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
        places = st.columns(3)
        for number, routine in enumerate(seen):
            own = rows[rows["routine_id"] == routine["routine_id"]]
            pair = pairs_of(own, "grade_name")
            with places[number % 3]:
                words.row_name(routine["name"])
                spec = pairs(pair, float(school["criterion"]))
                evidence.picture(spec, pairs_words(routine["name"], pair), f"g-{number}")
        evidence.legend("before", "now", "few", "line")
        names = {routine["routine_id"]: routine["name"] for routine in seen}
        shown = rows[rows["routine_id"].isin(list(names))]
        shown = shown.assign(routine=shown["routine_id"].map(names) + ", " + shown["grade_name"])
        table = tables.pairs_table(shown, "routine", "Routine and grade")
        evidence.as_table(table, "Each grade beside its own last term", "grade-pairs")


def opened(visit: Visit, school: Row, term: Row, grade: Row) -> None:
    """One grade, every routine week by week."""
    scope, school_id = visit.scope, school["school_id"]
    rows = weeks.by_grade(scope, school_id, grade["grade_code"], "responsiveness")
    reworded, pauses = ask.rewordings(scope, school_id), spans(ask.breaks(scope, school_id))

    def look(routine: Row, is_first: bool, is_last: bool) -> Stave:
        changed = changes_of(reworded, routine["routine_id"], "changed_on", "label")
        changed = within(changed, term["first_on"], term["last_on"])
        line = float(school["criterion"])
        return look_of_term(line, pauses, term["last_on"], changed, has_dates=is_last)

    with cards.card("one-grade"):
        words.card_title(f"{grade['name']}, week by week")
        of_term = rows[rows["term_id"] == term["term_id"]]
        routines: list[Row] = [TOGETHER, *ask.routines(scope, school_id).to_dict("records")]
        told = set(of_term[of_term["value"].notna()]["routine_id"])
        if told:
            if len(told) < len(routines):
                words.note(SOME_LEFT_OUT)
            routines = [routine for routine in routines if routine["routine_id"] in told]
        staves.by_routine(of_term, routines, look, "grade", wording, term["last_on"])
