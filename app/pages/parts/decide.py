"""The small form with which the team writes down what it decided."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from app import capture
from app.access import Visit
from app.look import cards, words
from app.look import desk as look
from app.pages.parts import decide_form
from app.pages.parts.choose import Row
from app.pages.parts.decide_write import Line, waiting, write
from app.text import decisions as say

__all__ = ["Line", "Pending", "about", "about_offer", "waiting", "what_was_written"]

Pending = Mapping[Line, list[capture.Waiting]]
_SAID = "a decision was written down"


def about_offer(visit: Visit, school: Row, row: Row | None, pending: Pending) -> None:
    """The form beneath the evidence of an offer."""
    if row is None:
        return
    with cards.card("decide"):
        words.card_title("What do we decide?")
        if row["course_code"] == "returned":
            words.plain(say.came_back(row))
        for one in pending.get((str(row["class_id"]), str(row["routine_id"])), []):
            words.plain(say.written_down(one.record))
        about(visit, school, row)


def about(visit: Visit, school: Row, row: Row) -> None:
    """The form to decide with about one class and routine."""
    line = (str(row["class_id"]), str(row["routine_id"]))
    place = f"decision of {'|'.join(line)}"
    key = st.session_state.setdefault(place, capture.new_key())
    with st.form(f"decide-{key}", border=False, enter_to_submit=False):
        record = decide_form.filled_in(visit, school, row, key)
        pressed = st.form_submit_button(say.BUTTON, key=f"write-{key}", type="primary")
    became = write(visit, school, record) if pressed else ""
    if became in ("kept", "used"):
        # The next form for this line is another one: a second click finds no button of its own.
        st.session_state.pop(place, None)
    if became == "kept":
        st.session_state[_SAID] = line
        st.rerun()


def what_was_written(pending: Pending) -> None:
    """Say once, aloud, that a decision was written down."""
    if st.session_state.pop(_SAID, None) in pending:
        look.outcome(say.WRITTEN)
