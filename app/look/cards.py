"""Cards and the columns they stand in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import streamlit as st

if TYPE_CHECKING:
    from streamlit.delta_generator import DeltaGenerator


@contextmanager
def card(key: str, *, even: bool = False) -> Iterator[None]:
    """A white card with a hairline; `even` cards of one row share their height."""
    with st.container(key=f"card-{'even-' if even else ''}{key}"):
        yield


def grid(*shares: float) -> list[DeltaGenerator]:
    """The columns of a page; on a tablet held upright they stand under each other."""
    with st.container(key="grid"):
        return list(st.columns(shares))


def small_charts(count: int) -> list[DeltaGenerator]:
    """Places for small charts: as many beside each other as fit, in the order of reading."""
    with st.container(key="small-charts"):
        return [st.container(key=f"small-chart-{number}", gap="xxsmall") for number in range(count)]


@contextmanager
def taps(key: str) -> Iterator[None]:
    """A line and its answers, side by side where there is room; fingers fit."""
    with st.container(key=f"tap-{key}", horizontal=True, gap="small", vertical_alignment="center"):
        yield


@contextmanager
def links(key: str) -> Iterator[None]:
    """Quiet links side by side."""
    with st.container(key=f"links-{key}", horizontal=True, gap="medium"):
        yield
