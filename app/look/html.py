"""Small pieces of HTML from plain text.

Everything is escaped; the only markup is `**bold**` and `[[82 %|number?...]]`, a number that leads
to the page about itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from html import escape
from urllib.parse import quote

import streamlit as st

from app.text.places import LINK

_BOLD = re.compile(r"\*\*(.+?)\*\*")
# In a demo an address must say whose view it is, because a link begins a new visit.
READER_KEY = "reader in the address"


def inline(text: str) -> str:
    """Escaped text with `**...**` as bold and `[[...|...]]` as a link to a number's page."""
    reader = str(st.session_state.get(READER_KEY, ""))
    more = f"&amp;view_as={quote(reader)}" if reader else ""
    link = rf'<a class="ro-number" href="\2{more}">\1</a>'
    return _BOLD.sub(r"<b>\1</b>", LINK.sub(link, escape(text)))


def paragraph(text: str, kind: str, tag: str = "p") -> None:
    """One paragraph of a kind that the style sheet knows; nothing for empty text."""
    if text:
        st.html(f'<{tag} class="ro-{kind}">{inline(text)}</{tag}>')


def items(lines: Iterable[str], kind: str, opened: str | None = None) -> None:
    """A list of lines; the one equal to `opened` is marked as the open one."""
    marked = [(line, ' class="ro-open"' if line == opened else "") for line in lines]
    if marked:
        inner = "".join(f"<li{mark}>{inline(line)}</li>" for line, mark in marked)
        st.html(f'<ul class="ro-{kind}">{inner}</ul>')


def facts(pairs: Mapping[str, str]) -> None:
    """Names and values in two columns."""
    inner = "".join(
        f"<dt>{inline(name)}</dt><dd>{inline(text)}</dd>" for name, text in pairs.items()
    )
    st.html(f'<dl class="ro-facts">{inner}</dl>')


def row_name(name: str, under: str = "") -> str:
    """The name of a row and a quiet word under it."""
    quiet = f'<p class="ro-row-note">{inline(under)}</p>' if under else ""
    return f'<h3 class="ro-row-name">{inline(name)}</h3>{quiet}'
