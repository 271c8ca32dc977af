"""Files at the steward's desk: the place to drop them, and those that wait in the inbox."""

from __future__ import annotations

from functools import partial

import streamlit as st

from app import desk as room
from app.desk import LARGEST_MB, Desk, NotKept
from app.look import cards, words
from app.look import desk as look
from app.pages.parts.desk import attempt, is_busy, say
from app.text import desk as told

_ROUND = "desk drop round"


def drop(desk: Desk) -> None:
    """Drop files, see what is chosen, then check and load them with one press."""
    turn = int(st.session_state.get(_ROUND, 0))
    with cards.card("drop"):
        words.card_title("Files from your computer")
        words.note(told.drop_note(LARGEST_MB))
        sent = st.file_uploader(
            "Choose files, or drop them here",
            accept_multiple_files=True,
            max_upload_size=LARGEST_MB,
            key=f"drop-{turn}",
        )
        label = told.load_label(len(sent))
        if st.button(label, type="primary", disabled=not sent, key="load-sent"):
            names = [name for one in sent if (name := _kept(desk, one.name, one.getbuffer()))]
            if names:
                attempt(lambda: room.load(desk, names))
            st.session_state[_ROUND] = turn + 1
            st.rerun()


def _kept(desk: Desk, name: str, content: memoryview) -> str | None:
    try:
        return room.keep(desk, name, content).name
    except NotKept as problem:
        say(str(problem))
        return None


def waiting(desk: Desk) -> None:
    """What lies in the inbox and is not loaded: all of it can be loaded, each put away."""
    files = room.waiting(desk)
    if not files or is_busy(desk):
        return
    refused = room.news(desk).refused
    with cards.card("waiting"):
        words.card_title("Waiting in the inbox")
        words.note(told.WAITING_NOTE)
        for number, file in enumerate(files):
            text = told.waiting(file.name, file.size, file.since, file.name in refused)
            with look.beside(f"waits-{number}"):
                look.file_line("hollow", text)
                if st.button(
                    f"Put away {file.name}", key=f"away-{number}", type="tertiary", wrap=True
                ):
                    attempt(partial(room.put_away, desk, file.name))
                    st.rerun()
        if st.button("Check and load what waits", key="load-waiting"):
            attempt(lambda: room.load(desk))
            st.rerun()
