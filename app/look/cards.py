"""Cards, columns and folds: the places of a page."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import TYPE_CHECKING

import streamlit as st

from app.look import html

if TYPE_CHECKING:
    from types import TracebackType

    from streamlit.delta_generator import DeltaGenerator


class Place:
    """A place to draw in, as often as one likes: `with place:`."""

    def __init__(self, box: DeltaGenerator) -> None:
        self._box = box
        self._open: list[ExitStack] = []

    def __enter__(self) -> None:
        html.apart()
        stack = ExitStack()
        stack.enter_context(self._box)
        stack.enter_context(html.within())
        self._open.append(stack)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._open.pop().__exit__(kind, problem, trace)


@contextmanager
def box(key: str) -> Iterator[None]:
    """A plain place that the style sheet knows by its key."""
    html.apart()
    with Place(st.container(key=key)):
        yield


@contextmanager
def card(key: str, *, even: bool = False) -> Iterator[None]:
    """A white card with a hairline; `even` cards of one row share their height."""
    with box(f"card-{'even-' if even else ''}{key}"):
        yield


@contextmanager
def fold(label: str, key: str, *, is_open: bool = False) -> Iterator[None]:
    """Something that is folded away until it is asked for and may hold anything."""
    html.apart()
    with Place(st.expander(label, expanded=is_open, key=key)):
        yield


def columns(*shares: float, on_one_line: bool = False) -> list[Place]:
    """Columns beside each other, on a phone under each other; `on_one_line` they share a foot."""
    html.apart()
    made = st.columns(list(shares), vertical_alignment="bottom" if on_one_line else "top")
    return [Place(column) for column in made]


def grid(*shares: float) -> list[Place]:
    """The columns of a page; on a tablet held upright they stand under each other."""
    with box("grid"):
        return columns(*shares)


def small_charts(count: int) -> list[Place]:
    """Places for small charts: as many beside each other as fit, in the order of reading."""
    with box("small-charts"):
        return [
            Place(st.container(key=f"small-chart-{number}", gap="xxsmall"))
            for number in range(count)
        ]


@contextmanager
def taps(key: str) -> Iterator[None]:
    """A line and its answers, side by side where there is room; fingers fit."""
    html.apart()
    row = st.container(key=f"tap-{key}", horizontal=True, gap="small", vertical_alignment="center")
    with Place(row):
        yield


def way(path: str, label: str, **query: str) -> None:
    """A quiet link that opens another page without loading everything anew."""
    html.apart()
    st.page_link(f"pages/{path}.py", label=label, query_params=query or None)
