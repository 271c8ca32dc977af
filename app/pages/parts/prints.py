"""Buttons that hand out a page on paper, made when the button is pressed and not before."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import streamlit as st

from app.access import Visit
from app.pages.parts.choose import Row
from app.paper import instead, kept
from app.text.file_names import brief_name, coach_name

if TYPE_CHECKING:
    from streamlit.delta_generator import DeltaGenerator


def beside() -> DeltaGenerator:
    """A place for choices and a button whose feet stand on one line."""
    return st.container(horizontal=True, vertical_alignment="bottom", gap="small", width="content")


def brief(visit: Visit, school: Row, term: Row | None) -> None:
    """The brief of the term that is shown."""
    term_id = "" if term is None else str(term["term_id"])
    make = partial(kept.brief_file, visit.scope, visit.snapshot, str(school["school_id"]), term_id)
    _hand_out(visit, "Brief on two pages (PDF)", make, brief_name(school, term), "brief")


def coach_page(visit: Visit, school: Row, term: Row, offer: Row | None) -> None:
    """The coach's page of the offer that is open; nothing when none is."""
    if offer is None:
        return
    make = partial(
        kept.coach_file,
        visit.scope,
        visit.snapshot,
        str(school["school_id"]),
        str(term["term_id"]),
        str(offer["offer_id"]),
    )
    _hand_out(visit, "Coach’s page on paper (PDF)", make, coach_name(offer, term), "coach-page")


def for_the_room(visit: Visit, label: str, kind: str, routine_id: str, file_name: str) -> None:
    """One kind of paper for the reader's own class."""
    make = partial(kept.room_file, visit.scope, visit.snapshot, kind, routine_id)
    _hand_out(visit, label, make, file_name, f"paper-{kind}")


def _hand_out(visit: Visit, label: str, make: partial[bytes], file_name: str, key: str) -> None:
    st.download_button(
        label,
        partial(instead.made_or_said, make, visit.snapshot),
        file_name=file_name,
        mime="application/pdf",
        key=key,
        on_click="ignore",
    )
