"""Small pieces of HTML from plain text.

Everything is escaped; the only markup is `**bold**` and `[[82 %|number?...]]`, a number that leads
to the page about itself.

A browser takes its time over every element of a page. In a body (`replay`) pieces that follow each
other are therefore kept back and shown as one; whatever else is shown calls `apart` first.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from html import escape
from urllib.parse import quote

import streamlit as st

from app.text.places import LINK

_BOLD = re.compile(r"\*\*(.+?)\*\*")
# In a demo an address must say whose view it is, because a link begins a new visit.
READER_KEY = "reader in the address"
_KEPT_BACK: ContextVar[list[str] | None] = ContextVar("kept back", default=None)


def put(piece: str) -> None:
    """Show a piece, or keep it back for those that follow."""
    kept = _KEPT_BACK.get()
    if kept is None:
        st.html(piece)
    else:
        kept.append(piece)


def apart() -> None:
    """Show what was kept back: something that is no HTML, or another place, comes next."""
    kept = _KEPT_BACK.get()
    if not kept:
        return
    st.html(kept[0] if len(kept) == 1 else _run(kept))
    kept.clear()


def _run(pieces: list[str]) -> str:
    return f'<div class="ro-run">{"".join(f"<div>{piece}</div>" for piece in pieces)}</div>'


@contextmanager
def joined() -> Iterator[None]:
    """In here pieces that follow each other become one."""
    before = _KEPT_BACK.set([])
    try:
        yield
        apart()
    finally:
        _KEPT_BACK.reset(before)


@contextmanager
def folded(label: str) -> Iterator[None]:
    """Pieces that are folded away until they are asked for; HTML alone, no other element."""
    before = _KEPT_BACK.set([])
    try:
        yield
        inner = _run(_KEPT_BACK.get() or [])
    finally:
        _KEPT_BACK.reset(before)
    summary = f"<summary><span>{escape(label)}</span></summary>"
    put(f'<details class="ro-fold">{summary}{inner}</details>')


@contextmanager
def within() -> Iterator[None]:
    """Another place of the page: its pieces are its own, joined where those around it are."""
    if _KEPT_BACK.get() is None:
        yield
        return
    with joined():
        yield


def reader() -> str:
    """In a demo: whose view it is, as an address must say it; empty in a real school."""
    return str(st.session_state.get(READER_KEY, ""))


def inline(text: str) -> str:
    """Escaped text with `**...**` as bold and `[[...|...]]` as a link to a number's page."""
    more = f"&amp;view_as={quote(reader())}" if reader() else ""
    link = rf'<a class="ro-number" href="\2{more}">\1</a>'
    return _BOLD.sub(r"<b>\1</b>", LINK.sub(link, escape(text)))


def paragraph(text: str, kind: str, tag: str = "p") -> None:
    """One paragraph of a kind that the style sheet knows; nothing for empty text."""
    if text:
        put(f'<{tag} class="ro-{kind}">{inline(text)}</{tag}>')


def items(lines: Iterable[str], kind: str, opened: str | None = None) -> None:
    """A list of lines; the one equal to `opened` is marked as the open one."""
    marked = [(line, ' class="ro-open"' if line == opened else "") for line in lines]
    if marked:
        inner = "".join(f"<li{mark}>{inline(line)}</li>" for line, mark in marked)
        put(f'<ul class="ro-{kind}">{inner}</ul>')


def facts(pairs: Mapping[str, str]) -> None:
    """Names and values in two columns."""
    inner = "".join(
        f"<dt>{inline(name)}</dt><dd>{inline(text)}</dd>" for name, text in pairs.items()
    )
    put(f'<dl class="ro-facts">{inner}</dl>')


def row_name(name: str, under: str = "") -> str:
    """The name of a row and a quiet word under it."""
    quiet = f'<p class="ro-row-note">{inline(under)}</p>' if under else ""
    return f'<h3 class="ro-row-name">{inline(name)}</h3>{quiet}'
