"""The agenda cards of the meeting, past actions first."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from app.access import Visit
from app.look import cards, words
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support
from app.text import agenda as say
from app.text import matters as shared
from app.text.offers import cycle_line

MOST_CYCLES = 5


def routine_names(visit: Visit, school: Row) -> dict[str, str]:
    """Routine keys and their names."""
    rows = ask.routines(visit.scope, school["school_id"])
    return dict(zip(rows["routine_id"], rows["name"], strict=True))


def coaching(visit: Visit, school: Row, term: Row) -> None:
    """The latest coaching cycles up to this term, and what moved."""
    names = routine_names(visit, school)
    rows = support.cycles(visit.scope, school["school_id"], term["last_on"], MOST_CYCLES)
    mine = rows.to_dict("records")
    with cards.card("coaching"):
        words.question("Coaching so far")
        if not mine:
            words.plain("No coaching has begun yet.")
        words.lines(cycle_line(row, names.get(row["routine_id"], "a routine")) for row in mine)
        words.note(say.COACHING_COMPARED if mine else "")


def matters(visit: Visit, school: Row, term: Row) -> None:
    """What belongs to a grade or to the whole school."""
    found = ask.matters(visit.scope, school["school_id"], term["term_id"])
    grades = ask.grades(visit.scope, school["school_id"])
    routines = ask.routines(visit.scope, school["school_id"])
    with cards.card("matters"):
        words.question("2 · Grade and school matters")
        words.plain(shared.matter_note(found, grades, routines))


def offers_to_consider(visit: Visit, school: Row, offers: pd.DataFrame) -> Row | None:
    """The open offers; the one chosen is opened beside the agenda."""
    names = say.offer_names(offers, routine_names(visit, school))
    with cards.card("offers"):
        words.question("3 · Offers to consider")
        if not names:
            words.plain("No class offer is open. That is a good meeting.")
            words.note(say.others(offers))
            return None
        chosen = st.radio(
            "Offers to consider",
            list(names),
            format_func=lambda key: names[key],
            key="offer",
            bind="query-params",
            persist_state="session",
            label_visibility="collapsed",
        )
        words.note(say.others(offers))
    return next(row for row in offers.to_dict("records") if row["offer_id"] == chosen)
