"""One grade's staves, every routine week by week."""

from __future__ import annotations

from app.access import Scope, Visit
from app.look import cards, words
from app.pages.parts import stave_groups, staves
from app.pages.parts.choose import Row
from app.pages.parts.term_looks import look_of_rewordings
from app.queries import school as ask
from app.queries import weeks
from app.queries.kept import kept
from app.text.routines import wording

TOGETHER: Row = {"routine_id": "*", "name": "All routines together"}
SOME_LEFT_OUT = (
    "A routine has no row of its own where nobody looked, or where a week's figure would rest on "
    "so few looks that it could point at one room."
)


def opened(visit: Visit, school: Row, term: Row, grade: Row) -> None:
    """One grade, every routine week by week."""
    ids = (school["school_id"], term["term_id"], grade["grade_code"])
    group, has_left_out = _weeks(visit.scope, *ids, school, term)
    with cards.card("one-grade"):
        words.card_title(f"{grade['name']}, week by week")
        if has_left_out:
            words.note(SOME_LEFT_OUT)
        staves.by_routine(group, "grade")


@kept
def _weeks(
    scope: Scope, school_id: str, term_id: str, grade_code: str, _school: Row, _term: Row
) -> tuple[stave_groups.Group, bool]:
    """The staves, and whether a routine has none of its own."""
    rows = weeks.by_grade(scope, school_id, grade_code, "responsiveness")
    of_term = rows[rows["term_id"] == term_id]
    routines: list[Row] = [TOGETHER, *ask.routines(scope, school_id).to_dict("records")]
    told = set(of_term[of_term["value"].notna()]["routine_id"])
    shown = [routine for routine in routines if routine["routine_id"] in told] or routines
    look = look_of_rewordings(scope, _school, _term)
    group = stave_groups.drawn(of_term, shown, look, wording, _term["last_on"])
    return group, len(shown) < len(routines)
