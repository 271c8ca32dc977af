"""The body of a page, drawn once for a reader, a build and an address, then shown again.

A body holds nothing that a reader sets and nothing that changes within a build: choices, forms and
what has just been written down stand outside it, on the page. The framework keeps what was drawn
and sends it again; nothing is asked, counted or worded a second time.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable

import streamlit as st

from app.files import SHELF, Offered
from app.look import html, view


def body(part: str, scope: Hashable, draw: Callable[[], None]) -> None:
    """Show a part of a page; `scope` is of a reader and a build, the address holds the choices."""
    SHELF.put(_drawn(part, view.address(), scope, draw))


# As many as some hundred readers open in a day; the ones longest unseen are drawn anew.
@st.cache_resource(show_spinner=False, max_entries=256)
def _drawn(
    part: str, address: str, scope: Hashable, _draw: Callable[[], None]
) -> tuple[Offered, ...]:
    before = len(view.offers())
    with html.joined():
        _draw()
    return tuple(view.offers()[before:])
