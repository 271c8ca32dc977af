"""What stands around every page: the style, the header, the foot."""

from __future__ import annotations

import gc
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

import streamlit as st

from app.look.html import READER_KEY, inline, paragraph
from app.text import cautions

if TYPE_CHECKING:
    from streamlit.delta_generator import DeltaGenerator
    from streamlit.navigation.page import StreamlitPage

_HERE = Path(__file__).parent
# Drawn by the style sheet: two notes on a stave.
MARK = '<span class="ro-mark"><span></span><span></span></span>'


@st.cache_resource(show_spinner=False)
def settle_memory() -> bool:
    """Put what was loaded at the start out of the collector's sight, once for each process."""
    gc.collect()
    gc.freeze()
    return True


def style() -> None:
    """Our style sheet."""
    st.html(_HERE / "roundelay.css")


def header_places() -> tuple[DeltaGenerator, DeltaGenerator]:
    """Two places in the header, to be filled later: the pages, and who is reading.

    Who is reading decides which pages there are, so the second is filled first.
    """
    with st.container(key="head", horizontal=True, gap="small", vertical_alignment="center"):
        st.html(f'<div class="ro-name">{MARK}<span>Roundelay</span></div>', width="content")
        pages = st.container(key="nav", horizontal=True, gap="small", width="content")
        who = st.container(
            key="who", horizontal=True, gap="small", vertical_alignment="center", width="content"
        )
    return pages, who


def page_words(place: DeltaGenerator, pages: Sequence[StreamlitPage], current: str) -> None:
    """The pages of this reader as words; the current one is marked."""
    with place:
        _words(tuple(page.url_path for page in pages), current, pages)


@st.cache_resource(show_spinner=False, max_entries=64)
def _words(paths: tuple[str, ...], current: str, _pages: Sequence[StreamlitPage]) -> None:
    """Drawn once for a reader's pages, and shown again from then on."""
    for number, page in enumerate(_pages):
        state = "on" if paths[number] == current else "off"
        with st.container(key=f"nav-{state}-{number}", width="content"):
            st.page_link(page, label=page.title)


def who_reads(place: DeltaGenerator, who: str) -> None:
    """Who is reading, as quiet words."""
    place.html(f'<span class="ro-who">{inline(who)}</span>')


def signed_in(place: DeltaGenerator, who: str, reader: str) -> None:
    """Who is signed in and as what, and the way out: a link, so that any keyboard reaches it."""
    words = who if who == reader else f"{who} · {reader}"
    place.html(f'<span class="ro-who">{inline(words)}</span>')
    place.html('<a class="ro-leave" href="signout">Sign out</a>', width="content")


def in_class(place: DeltaGenerator, reader: str = "") -> None:
    """The way to the page for phones and tablets; in a demo it says whose page to show."""
    more = f"?view_as={quote(reader, safe='')}" if reader else ""
    place.html(f'<a class="ro-leave" href="classroom{more}">In class</a>', width="content")


def view_as(place: DeltaGenerator, readers: Mapping[str, str], first: str) -> str:
    """In a demo: the choice of whose pages to see, which says that it is a demo."""
    place.html('<span class="ro-who">Demo: view as</span>', width="content")
    keys = list(readers)
    chosen = place.selectbox(
        "Demo: view as",
        keys,
        index=keys.index(first) if first in keys else 0,
        format_func=lambda key: readers[key],
        key="view_as",
        label_visibility="collapsed",
        bind="query-params",
        persist_state="session",
        width=225,
    )
    st.session_state[READER_KEY] = readers[chosen]
    return chosen


@st.cache_resource(show_spinner=False, max_entries=8)
def foot(build_line: str) -> None:
    """The cautions and where the numbers come from, under every page; drawn once for a build."""
    with st.container(key="foot"):
        for text in (cautions.SHORT, cautions.LINE):
            paragraph(text, "note")
        with st.expander("More to keep in mind", key="cautions"):
            for text in cautions.EVERY[2:]:
                paragraph(text, "note")
        with st.container(key="links-foot", horizontal=True, gap="medium"):
            st.page_link("pages/numbers.py", label="What these numbers mean")
            st.page_link("pages/who.py", label="Who can see what")
        paragraph(build_line, "note")
