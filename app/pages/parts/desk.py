"""The steward's desk on a page: whose it is, what was just said, what was done lately."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from app import desk as room
from app.access import Reader
from app.desk import Desk, NotKept, Working
from app.look import cards, words
from app.look import desk as look
from app.text import desk as told
from app.text.readers import reader_words

_SAID = "desk said"


def desk_of(reader: Reader) -> Desk:
    """The desk of whoever signed in (the front page keeps the name), or of the role alone."""
    who = str(st.session_state.get("signed in as") or reader_words(reader.key))
    return room.desk_for(reader, who)


def is_busy(desk: Desk) -> bool:
    """Whether something that was started here is still at work."""
    work = room.current(desk)
    return work is not None and not work.is_over


def attempt(start: Callable[[], object]) -> bool:
    """Start something; the second of two at once, and a file that is gone, are told so."""
    try:
        start()
    except Working as first:
        say(told.someone_first(first.work.kind, first.work.who, first.work.started_at))
        return False
    except NotKept as problem:
        say(str(problem))
        return False
    return True


def say(text: str) -> None:
    """Keep a word for the next drawing of the page."""
    st.session_state[_SAID] = [*st.session_state.get(_SAID, []), text]


def what_was_said() -> None:
    """Show those words, once."""
    for text in st.session_state.pop(_SAID, []):
        look.warned(text)


def diary(desk: Desk) -> None:
    """What was done at the desk lately, by whom."""
    lines = room.latest(desk)
    if not lines:
        return
    with cards.card("diary"):
        words.card_title("Lately at this desk")
        words.lines(told.diary_line(one.at, one.who, one.what, one.about) for one in lines)
