"""Planned lessons without a log, written down with one tap each, or a week at once."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd
import streamlit as st

from app import access
from app.access import Visit
from app.capture import lessons
from app.look import cards, words
from app.pages.parts.choose import Row
from app.queries import room
from app.text import catch_up as say

_SAID = "roundelay catch-up said"


def open_slots(visit: Visit) -> tuple[pd.DataFrame, str]:
    """Planned lessons that nobody has written down, the latest first; what waits for a build."""
    rows, workspace = room.plan_not_logged(visit.scope), access.workspace_setting()
    if rows.empty or workspace is None:
        return rows, ""
    found = lessons.written_down(visit.scope, workspace, visit.snapshot.built_at)
    keys = [lessons.lesson_key(row) for row in rows.to_dict("records")]
    is_open = ~pd.Series(keys, index=rows.index).isin([one.key for one in found])
    return rows[is_open], say.waiting_note([one.record for one in found])


def taps(visit: Visit, slots: pd.DataFrame) -> None:
    """A line and two answers for each; none is given beforehand."""
    for row in slots.to_dict("records"):
        slot = str(row["plan_slot_id"])
        with cards.taps(slot):
            words.plain(say.slot_words(row))
            given = st.button(say.YES, key=f"yes-{slot}", help=say.of_slot(say.YES, row))
            off = st.button(say.NO, key=f"no-{slot}", help=say.of_slot(say.NO, row))
        if given or off:
            _write(visit, [row], was_given=given)


def whole_week(visit: Visit, slots: pd.DataFrame) -> None:
    """One tap for everything that was planned this week and has no log."""
    if not slots.empty:
        words.note(say.NOT_SAID)
        if st.button(say.whole_week(len(slots)), key="whole-week", type="primary"):
            _write(visit, slots.to_dict("records"), was_given=True)


def every_open_slot(visit: Visit, term: Row) -> None:
    """All of a term."""
    slots, waiting_words = open_slots(visit)
    slots = slots[slots["term_id"] == term["term_id"]]
    if slots.empty and not waiting_words:
        return
    with cards.card("catch-up"):
        words.card_title("Not written down yet")
        said()
        words.note(say.NOT_SAID if len(slots) else "")
        taps(visit, slots.head(say.MOST))
        words.note(say.later(len(slots)))
        words.note(waiting_words)


def said() -> None:
    """What the last tap did, once."""
    words.plain(str(st.session_state.pop(_SAID, "")))


def _write(visit: Visit, slots: Sequence[Row], *, was_given: bool) -> None:
    """Within the run that the tap began, so that the visit is the one of this moment."""
    workspace = access.workspace_setting()
    if workspace is not None:
        at = None if visit.snapshot.is_demo else access.now()
        code = lessons.write_all(visit.scope, workspace, slots, at, was_given=was_given)
        st.session_state[_SAID] = say.outcome(code, len(slots))
        st.rerun()
