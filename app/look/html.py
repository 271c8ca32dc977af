"""Small pieces of HTML from plain text. Everything is escaped; `**bold**` is the only markup."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from html import escape

import streamlit as st

_BOLD = re.compile(r"\*\*(.+?)\*\*")


def inline(text: str) -> str:
    """Escaped text with `**...**` as bold."""
    return _BOLD.sub(r"<b>\1</b>", escape(text))


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
