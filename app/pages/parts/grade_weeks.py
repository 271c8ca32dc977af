"""One grade's staves, every routine week by week."""

from __future__ import annotations

from app.access import Scope, Visit
from app.charts.stave import Stave
from app.charts.stave_looks import changes_of, look_of_term, spans, within
from app.look import cards, words
from app.pages.parts import stave_groups, staves
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import weeks
from app.queries.cached import kept
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
    reworded, pauses = ask.rewordings(scope, school_id), spans(ask.breaks(scope, school_id))

    def look(routine: Row, is_first: bool, is_last: bool) -> Stave:
        changed = changes_of(reworded, routine["routine_id"], "changed_on", "label")
        changed = within(changed, _term["first_on"], _term["last_on"])
        line = float(_school["criterion"])
        return look_of_term(line, pauses, _term["last_on"], changed, has_dates=is_last)

    of_term = rows[rows["term_id"] == term_id]
    routines: list[Row] = [TOGETHER, *ask.routines(scope, school_id).to_dict("records")]
    told = set(of_term[of_term["value"].notna()]["routine_id"])
    shown = [routine for routine in routines if routine["routine_id"] in told] or routines
    group = stave_groups.drawn(of_term, shown, look, wording, _term["last_on"])
    return group, len(shown) < len(routines)
