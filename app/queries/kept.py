"""The one way that answers are kept: small ones, a bounded number of them, no spinner."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec, TypeVar

import streamlit as st

Filters = ParamSpec("Filters")
Answer = TypeVar("Answer")


def by_name(title: str) -> str:
    """A sort clause by name: Room 2 before Room 10. `title` is a column of ours, never a value."""
    number = f"try_cast(regexp_extract({title}, '[0-9]+') as integer)"
    return f"regexp_extract({title}, '^[^0-9]*'), {number} nulls last, {title}"


def kept(function: Callable[Filters, Answer]) -> Callable[Filters, Answer]:
    """Keep what a pure function answers; its arguments (scope first) are the key.

    Arguments that begin with an underscore are no part of the key: rows that the others name.
    Everyone with the same scope gets the same object: nobody may change it.
    """
    keep: Callable[Filters, Answer] = st.cache_resource(show_spinner=False, max_entries=512)(
        function
    )
    return keep
