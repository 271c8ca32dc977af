"""The builds that are kept, and going back to one of them after a second word."""

from __future__ import annotations

import streamlit as st

from app import desk as room
from app.desk import Build, Desk
from app.look import cards, states, words
from app.look import desk as look
from app.pages.parts.desk import attempt
from app.text import desk as told

_ASKED = "desk build asked for"


def build_step(desk: Desk) -> None:
    """Which files are not in the numbers yet, and the button that makes a new build."""
    known = room.news(desk)
    words.lead(told.new_since(known.new_files, known.let_in_count, known.is_known))
    words.note(
        "A build takes a minute or a few. Everyone keeps reading the build before until the new "
        "one is whole."
    )
    wanted = bool(known.new_files or known.let_in_count) or not known.is_known
    if st.button("Build now", type="primary" if wanted else "secondary", key="build"):
        attempt(lambda: room.make_build(desk))
        st.rerun()


def kept(desk: Desk) -> None:
    """Each build with its dates; any but the one on show can be put on show."""
    found = room.builds(desk)
    with cards.card("kept"):
        words.card_title("Builds that are kept")
        words.note(told.BACK_NOTE)
        if not found:
            states.nothing_here("No build is kept yet.")
        for number, build in enumerate(found):
            shape = "filled" if build.is_shown else "hollow"
            text = told.build_line(build.built_at, build.as_of_on, build.is_shown)
            with look.beside(f"build-{number}"):
                look.file_line(shape, text)
                if not build.is_shown and st.session_state.get(_ASKED) != build.build_id:
                    _offer(desk, build, number)
            if st.session_state.get(_ASKED) == build.build_id:
                _sure(desk, build, number)


def _offer(desk: Desk, build: Build, number: int) -> None:
    label = f"Show the build of {told.build_name(build.built_at)}"
    if st.button(label, key=f"back-{number}", type="tertiary", wrap=True):
        st.session_state[_ASKED] = build.build_id
        st.rerun()


def _sure(desk: Desk, build: Build, number: int) -> None:
    look.warned(told.sure_of_build(told.build_name(build.built_at)))
    with look.answers(f"back-{number}"):
        is_sure = st.button("Yes, show it to everyone", type="primary", key=f"yes-{number}")
        if is_sure or st.button("Leave it as it is", key=f"no-{number}"):
            del st.session_state[_ASKED]
            if is_sure:
                attempt(lambda: room.go_back(desk, build.build_id))
            st.rerun()
