"""Groups of staves on a page, and what has moved beside them."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from typing import Any

import pandas as pd

from app.access import Visit
from app.look import evidence, states, words
from app.pages.parts.stave_groups import Group
from app.queries import school as ask
from app.text import change, watching

Row = Mapping[Hashable, Any]


def moved(
    visit: Visit, school_id: str, rows: pd.DataFrame, routines: Sequence[Row], thing: str, key: str
) -> None:
    """Beside the staves: what has moved since the last named change, what is held or too early."""
    names = {str(routine["routine_id"]): str(routine["name"]) for routine in routines}
    terms = ask.held_terms(visit.scope, school_id, "responsiveness")
    until = ask.held_until(visit.scope, school_id, "responsiveness")
    words.plain(watching.held_in_terms(list(terms["title"])))
    said = change.sentence(rows, names, until)
    if said:
        words.plain(said)
        words.note(change.NOTE)
        table = change.table(rows, names, thing, until)
        label = "What has moved, routine by routine"
        evidence.as_table(table, label, f"moved-{key}", label)


def by_routine(group: Group, key: str) -> None:
    """The staves of a group, what their shapes mean, and their table."""
    if not group.lines:
        states.nothing_here("Nobody has looked yet in this term. Empty is not bad.")
        return
    evidence.named_pictures((one.name, one.under, one.spec, one.said) for one in group.lines)
    evidence.legend(*group.shapes)
    evidence.as_table(group.table, "Every routine, week by week", key)
