"""What stands around every page: the style, the header, the foot."""

from __future__ import annotations

import gc
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

import streamlit as st

from app.look import cards, html
from app.look.html import READER_KEY, inline, paragraph
from app.text import cautions

if TYPE_CHECKING:
    from streamlit.delta_generator import DeltaGenerator
    from streamlit.navigation.page import StreamlitPage

_HERE = Path(__file__).parent
# Drawn by the style sheet: two notes on a stave.
MARK = '<span class="ro-mark"><span></span><span></span></span>'
_NAME = f'<div class="ro-name">{MARK}<span>Roundelay</span></div>'


@st.cache_resource(show_spinner=False)
def settle_memory() -> bool:
    """Put what was loaded at the start out of the collector's sight, once for each process."""
    gc.collect()
    gc.freeze()
    return True


def style() -> None:
    """Our style sheet."""
    st.html(_HERE / "roundelay.css")


def header_places() -> tuple[DeltaGenerator, DeltaGenerator, DeltaGenerator]:
    """Places in the header, to be filled later: the name, the pages, and who is reading.

    Who is reading decides which pages there are, so the second is filled first.
    """
    with st.container(key="head", horizontal=True, gap="small", vertical_alignment="center"):
        name = st.container(key="name", width="content")
        pages = st.container(key="nav", horizontal=True, gap="small", width="content")
        who = st.container(
            key="who", horizontal=True, gap="small", vertical_alignment="center", width="content"
        )
    return name, pages, who


def name_alone(place: DeltaGenerator) -> None:
    """The name of the dashboard where there are no pages yet."""
    place.html(_NAME)


def page_words(
    name: DeltaGenerator, place: DeltaGenerator, pages: Sequence[StreamlitPage], current: str
) -> None:
    """The name, and the pages of this reader as words; the current one is marked.

    The style sheet finds its word by its number, so that no word is drawn anew for that.
    """
    paths = tuple(page.url_path for page in pages)
    name.html(f'{_NAME}<i class="ro-at-{paths.index(current) + 1 if current in paths else 0}"></i>')
    with place:
        _words(paths, pages)


@st.cache_resource(show_spinner=False, max_entries=16)
def _words(paths: tuple[str, ...], _pages: Sequence[StreamlitPage]) -> None:
    """Drawn once for a reader's pages, and shown again from then on."""
    for page in _pages:
        st.page_link(page, label=page.title)


def who_reads(place: DeltaGenerator, who: str, ways: Sequence[str] = ()) -> None:
    """Who is reading, as quiet words, and links beside them: any keyboard reaches them."""
    words = [f'<span class="ro-who">{inline(who)}</span>'] if who else []
    if words or ways:
        place.html(f'<div class="ro-reads">{"".join([*words, *ways])}</div>', width="content")


def sign_out() -> str:
    """The way out."""
    return '<a class="ro-leave" href="signout">Sign out</a>'


def in_class(reader: str = "") -> str:
    """The way to the page for phones and tablets; in a demo it says whose page to show."""
    more = f"?view_as={quote(reader, safe='')}" if reader else ""
    return f'<a class="ro-leave" href="classroom{more}">In class</a>'


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
    with cards.box("foot"), html.joined():
        for text in (cautions.SHORT, cautions.LINE):
            paragraph(text, "note")
        with html.folded("More to keep in mind"):
            for text in cautions.EVERY[2:]:
                paragraph(text, "note")
        cards.way("numbers", "What these numbers mean")
        cards.way("who", "Who can see what")
        paragraph(build_line, "note")
