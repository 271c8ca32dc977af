"""How the staves of one term look: its breaks, our line, and what changed within it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from app.access import Scope
from app.charts.stave import Stave
from app.charts.stave_looks import changes_of, look_of_term, spans, within
from app.pages.parts.choose import Row
from app.queries import school as ask

Look = Callable[[Row, bool, bool], Stave]


def look_with(
    scope: Scope, school: Row, term: Row, changed: Callable[[Row, bool], Sequence[tuple[date, str]]]
) -> Look:
    """The look of each routine; `changed` names its changes and is told which row is the last."""
    pauses = spans(ask.breaks(scope, school["school_id"]))

    def look(routine: Row, is_first: bool, is_last: bool) -> Stave:
        own = within(list(changed(routine, is_last)), term["first_on"], term["last_on"])
        line = float(school["criterion"])
        return look_of_term(line, pauses, term["last_on"], own, has_dates=is_last)

    return look


def look_of_rewordings(scope: Scope, school: Row, term: Row) -> Look:
    """For a school or a grade: what changed is the wording of a routine."""
    reworded = ask.rewordings(scope, school["school_id"])
    return look_with(
        scope,
        school,
        term,
        lambda routine, _: changes_of(reworded, routine["routine_id"], "changed_on", "label"),
    )
