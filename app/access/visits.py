"""One session's visit: which build, who reads, and the scope that its pages share."""

from __future__ import annotations

from dataclasses import dataclass

import streamlit as st

from app.access.problems import Refused
from app.access.readers import Reader, reader_for
from app.access.scopes import Scope, scope_for
from app.access.snapshots import Snapshot
from app.access.surroundings import reader_setting

_KEY = "roundelay visit"


@dataclass(frozen=True)
class Visit:
    """What a page needs to begin."""

    snapshot: Snapshot
    reader: Reader
    scope: Scope


def arrive(snapshot: Snapshot, chosen: str | None = None) -> Visit:
    """Make the visit of this run and keep it, on the server, for the page that follows."""
    reader = reader_for(reader_setting(), is_demo=snapshot.is_demo, chosen=chosen)
    visit = Visit(snapshot, reader, scope_for(snapshot, reader))
    st.session_state[_KEY] = visit
    return visit


def here() -> Visit:
    """The visit of this run; `Refused` when a page was reached without coming through the door."""
    visit = st.session_state.get(_KEY)
    if not isinstance(visit, Visit):
        raise Refused("This page opens from the front page only.")
    return visit
