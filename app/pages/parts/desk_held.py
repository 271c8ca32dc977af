"""Rows that wait: let in where a person may say so, or given back in a correction sheet."""

from __future__ import annotations

from dataclasses import asdict

import streamlit as st

from app import desk as room
from app.desk import Desk, Held
from app.look import cards, states, words
from app.look import desk as look
from app.pages.parts.desk import attempt
from app.pages.parts.desk_sheets import sheet_button, to_correct
from app.text import desk as told
from app.text import desk_rows as about

_ASKED = "desk rows asked for"
SHOWN = 30


def decide(desk: Desk) -> None:
    """What waits at this moment: rows that a person may let in, then rows to correct."""
    known = room.news(desk)
    mine = [one for one in known.held if one.can_release]
    others = [one for one in known.held if not one.can_release]
    with cards.card("decide"):
        words.card_title("For a person to decide")
        words.lead(about.held_sentence(mine, known.is_known))
        if mine:
            words.note(about.LET_IN_NOTE)
        for number, held in enumerate(mine[:SHOWN]):
            _one(desk, held, number)
        words.note(about.more_held(len(mine[SHOWN:])))
    with cards.card("correct"):
        words.card_title("To be corrected")
        if others:
            words.note(told.SHEET_NOTE)
            to_correct(desk, others)
        else:
            states.nothing_here("No row waits for a correction at this moment.")


def _one(desk: Desk, held: Held, number: int) -> None:
    remedy = f"What to do: {held.remedy}" if held.remedy else ""
    look.file_line("few", about.held(asdict(held)), [remedy])
    key = (held.file_name, held.lines)
    if st.session_state.get(_ASKED) == key:
        _sure(desk, held, number)
        return
    with look.answers(f"held-{number}"):
        label = about.let_in_label(held.count, held.file_name)
        if st.button(label, key=f"let-{number}", wrap=True):
            st.session_state[_ASKED] = key
            st.rerun()
        if held.correction_sheet:
            sheet_button(desk, held.correction_sheet, held.file_name, f"held-{number}")


def _sure(desk: Desk, held: Held, number: int) -> None:
    look.warned(about.sure_of_rows(held.count, room.MOST_LINES, desk.who))
    with look.answers(f"sure-{number}"):
        is_sure = st.button("I looked: let them in", type="primary", key=f"in-{number}")
        if is_sure or st.button("Leave them set aside", key=f"leave-{number}"):
            del st.session_state[_ASKED]
            if is_sure:
                attempt(lambda: room.let_in(desk, held.file_name, held.lines))
            st.rerun()
