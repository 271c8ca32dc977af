"""Cards and the columns they stand in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import streamlit as st


@contextmanager
def card(key: str, *, even: bool = False) -> Iterator[None]:
    """A white card with a hairline; `even` cards of one row share their height."""
    with st.container(key=f"card-{'even-' if even else ''}{key}"):
        yield


@contextmanager
def stave_rows(key: str) -> Iterator[None]:
    """The rows of a group of staves, close together."""
    with st.container(key=f"stave-{key}"):
        yield


@contextmanager
def links(key: str) -> Iterator[None]:
    """Quiet links side by side."""
    with st.container(key=f"links-{key}", horizontal=True, gap="medium"):
        yield
