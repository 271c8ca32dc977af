"""The one way a query is kept: small tables, a bounded number of them, no spinner."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec

import pandas as pd
import streamlit as st

Filters = ParamSpec("Filters")


def by_name(title: str) -> str:
    """A sort clause by name: Room 2 before Room 10. `title` is a column of ours, never a value."""
    number = f"try_cast(regexp_extract({title}, '[0-9]+') as integer)"
    return f"regexp_extract({title}, '^[^0-9]*'), {number} nulls last, {title}"


def cached(query: Callable[Filters, pd.DataFrame]) -> Callable[Filters, pd.DataFrame]:
    """Keep the answers of a query function; its arguments (scope first) are the key."""
    kept: Callable[Filters, pd.DataFrame] = st.cache_data(show_spinner=False, max_entries=512)(
        query
    )
    return kept
