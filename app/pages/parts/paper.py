"""Paper for the room and for home, from a teacher's own pages."""

from __future__ import annotations

import streamlit as st

from app.access import Visit
from app.look import cards, words
from app.pages.parts import prints
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.text import room_paper
from app.text.file_names import paper_name

_WIDTH = 275


def for_the_room(visit: Visit, card: Row) -> None:
    """Everything there is on paper for a class; what is of one routine is chosen first."""
    names = {"": room_paper.ALL_ROUTINES}
    routines = ask.routines(visit.scope, card["school_id"]).to_dict("records")
    names |= {str(row["routine_id"]): str(row["name"]) for row in routines}
    with cards.card("paper"):
        words.card_title(room_paper.CARD_TITLE)
        words.note(room_paper.CARD_NOTE)
        with prints.beside():
            chosen = st.selectbox(
                "For which routine", list(names), format_func=names.__getitem__, width=_WIDTH
            )
            if routines:
                _hand_out(visit, card, "routine-cards", chosen, names)
                _hand_out(visit, card, "home", chosen, names)
        with prints.beside():
            _hand_out(visit, card, "draw-cards", "", names)
            _hand_out(visit, card, "tally", "", names)
        words.note(room_paper.NAMES_NOTE)


def for_turns(visit: Visit, card: Row) -> None:
    """Cards for the draw and sheets for turns, where turns are looked at."""
    with cards.card("paper"):
        words.card_title(room_paper.CARD_TITLE)
        words.note(room_paper.TURNS_NOTE)
        with prints.beside():
            _hand_out(visit, card, "draw-cards", "", {})
            _hand_out(visit, card, "tally", "", {})
        words.note(room_paper.NAMES_NOTE)


def _hand_out(visit: Visit, card: Row, kind: str, routine_id: str, names: dict[str, str]) -> None:
    routine = names[routine_id] if routine_id else ""
    file_name = paper_name(kind, card["title"], routine, card["as_of_on"])
    prints.for_the_room(visit, room_paper.LABEL[kind], kind, routine_id, file_name)
