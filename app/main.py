"""The dashboard's front door: the style, who is reading, and that reader's pages."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from functools import partial
from pathlib import Path

import streamlit as st

from app import access
from app.door import Identity
from app.entrance import own_door
from app.look import frame, states
from app.navigation import CLASSROOM, PAGES, all_pages, closed_pages, header_words, pages_of
from app.pages.parts import first_files
from app.queries import room
from app.queries.demo import demo_names
from app.text.readers import reader_names, reader_words

_HERE = Path(__file__).parent
_LOG = logging.getLogger("roundelay")


def main() -> None:
    """Draw one run of the dashboard."""
    # The icon must be ours and set before the pages are: otherwise one is fetched from outside.
    st.set_page_config(
        page_title="Roundelay",
        page_icon=str(_HERE / "static" / "mark.png"),
        layout="wide",
        initial_sidebar_state="collapsed",
    )
    frame.settle_memory()
    frame.style()
    try:
        _visit()
    except access.NothingBuilt:
        closed_pages(_nothing_built).run()
    except access.Broken as problem:
        closed_pages(partial(states.broken, str(problem))).run()
    except access.Refused as answer:
        states.refused(str(answer))
    except Exception:  # noqa: BLE001 - the outermost edge: no traceback reaches a reader
        _LOG.exception("A page could not be drawn.")
        states.unforeseen()


def _visit() -> None:
    person = None
    if (door := own_door()) is not None:
        person = door.who(st.context.cookies.to_dict())
        if person is not None and person.source == "device":
            person = None  # a class tablet is for the classroom page; the wall says so first
        _keep_apart(person)
        if person is None:
            closed_pages(states.signed_out).run()
            return
    snapshot = access.current_snapshot(access.workspace_setting())
    name_place, pages_place, who_place = frame.header_places()
    readers = demo_names(snapshot) if snapshot.is_demo and person is None else None
    chosen = None
    if readers is not None:
        chosen = frame.view_as(who_place, reader_names(readers), access.reader_setting())
    visit = access.arrive(snapshot, chosen, person.reader if person else None)
    in_demo = visit.reader.key if readers is not None else ""
    ways = [frame.in_class(in_demo)] if visit.reader.role in CLASSROOM else []
    title = room.title(visit.scope) if visit.reader.role == "teacher" else ""
    as_what = reader_words(visit.reader.key, title)
    frame.who_reads(who_place, *_who(person, as_what, in_demo, ways))
    pages = all_pages(visit.reader.role)
    words = header_words(visit.reader.role, pages)
    page = st.navigation(pages, position="hidden")
    if readers is not None:
        _leave_others_page(page.url_path, visit.reader.role)
    frame.page_words(name_place, pages_place, words, page.url_path or words[0].url_path)
    page.run()


def _who(
    person: Identity | None, as_what: str, in_demo: str = "", ways: Sequence[str] = ()
) -> tuple[str, list[str]]:
    """Who is reading, as what, and the links beside it; the choice of a demo says it itself."""
    if person is None:
        return "" if in_demo else as_what, list(ways)
    who = person.shown_name if person.shown_name == as_what else f"{person.shown_name} · {as_what}"
    return who, [frame.sign_out(), *ways]


def _nothing_built() -> None:
    """The first step: a steward may take it here, everybody else is told whose it is."""
    door = own_door()
    person = door.who(st.context.cookies.to_dict()) if door is not None else None
    reader = access.reader_for(person.reader if person else access.reader_setting(), is_demo=False)
    if reader.role != "steward" or access.workspace_setting() is None:
        states.nothing_built()
        return
    name_place, _, who_place = frame.header_places()
    frame.name_alone(name_place)
    frame.who_reads(who_place, *_who(person, reader_words(reader.key)))
    first_files.show(reader)


def _keep_apart(person: Identity | None) -> None:
    """What one person chose is not kept for the next at the same browser.

    The name is kept for pages on which something is decided, to be written down with it.
    """
    subject = person.subject if person else ""
    if st.session_state.get("visit of", subject) != subject:
        st.session_state.clear()
    st.session_state["visit of"] = subject
    st.session_state["signed in as"] = person.shown_name if person else ""


def _leave_others_page(path: str, role: str) -> None:
    """In a demo, changing who reads leads to that reader's first page."""
    before = st.session_state.get("read as")
    st.session_state["read as"] = role
    others = {page.path for page in PAGES if role not in page.roles}
    if before not in (None, role) and path in others:
        # Choices of the page before mean nothing on the next; who reads is kept by the session.
        st.switch_page(pages_of(role)[0], query_params={})


main()
