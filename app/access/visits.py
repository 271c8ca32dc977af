"""One session's visit: which build, who reads, and the scope that its pages share."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import PurePosixPath
from urllib.parse import urlsplit

import streamlit as st

from app.access.problems import Refused
from app.access.readers import Reader, reader_for
from app.access.scopes import Scope, scope_for
from app.access.snapshots import Snapshot
from app.access.surroundings import reader_setting

_KEY = "roundelay visit"
_SENT = "roundelay sent to the door"


@dataclass(frozen=True)
class Visit:
    """What a page needs to begin."""

    snapshot: Snapshot
    reader: Reader
    scope: Scope


def arrive(snapshot: Snapshot, chosen: str | None = None, signed_in: str | None = None) -> Visit:
    """Make the visit of this run and keep it, on the server, for the page that follows.

    Whoever signed in reads as that and nothing else; a choice on the page then counts nowhere.
    """
    if signed_in is not None:
        reader = reader_for(signed_in, is_demo=False)
    else:
        reader = reader_for(reader_setting(), is_demo=snapshot.is_demo, chosen=chosen)
    visit = Visit(snapshot, reader, scope_for(snapshot, reader))
    st.session_state[_KEY] = visit
    return visit


def here() -> Visit:
    """The visit of this run, once; `Refused` when a page was reached without the door."""
    visit = st.session_state.pop(_KEY, None)
    if isinstance(visit, Visit):
        st.session_state.pop(_SENT, None)
        return visit
    if not st.session_state.get(_SENT):
        _send_to_the_door()
    raise Refused("This page opens from the front page only.")


def _send_to_the_door() -> None:
    """Run again through the front door, once.

    A server's very first request may ask for an inner page. Streamlit then takes the folder named
    `pages` for its older kind of app and runs the page alone. Naming pages the newer way ends that
    for the whole process; the page that was asked for is among them, so that its address stays.
    """
    st.session_state[_SENT] = True
    asked = PurePosixPath(urlsplit(st.context.url or "").path).name or "front"
    same_page = st.Page(_nothing, title="Roundelay", url_path=asked)
    front = st.Page(_nothing, title="Roundelay", url_path=f"before-{asked}", default=True)
    st.navigation([front, same_page], position="hidden")
    st.rerun()


def _nothing() -> None:
    """An empty page: it is never drawn."""
