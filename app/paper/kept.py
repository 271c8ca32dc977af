"""Printed pages on request: made when a reader asks, kept as long as their build is shown."""

from __future__ import annotations

import streamlit as st

from app.access import Scope, Snapshot
from app.paper import brief, coach
from app.paper.kinds import KINDS


@st.cache_data(show_spinner=False, max_entries=24)
def brief_file(scope: Scope, _snapshot: Snapshot, school_id: str, term_id: str) -> bytes:
    """The brief of one term. The scope, which names its build, is part of the key."""
    return brief.printed(scope, _snapshot, school_id, term_id)


@st.cache_data(show_spinner=False, max_entries=48)
def coach_file(
    scope: Scope, _snapshot: Snapshot, school_id: str, term_id: str, offer_id: str
) -> bytes:
    """The coach's page of one open offer."""
    return coach.printed(scope, _snapshot, school_id, term_id, offer_id)


@st.cache_data(show_spinner=False, max_entries=48)
def room_file(scope: Scope, _snapshot: Snapshot, kind: str, routine_id: str) -> bytes:
    """Paper for the room or for home, of the reader's own class; one routine or all."""
    return KINDS[kind](scope, _snapshot, "", routine_id)
