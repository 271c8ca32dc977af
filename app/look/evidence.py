"""A chart with its words, and the same as a table that can be taken away."""

from __future__ import annotations

from typing import Any

import pandas as pd
import streamlit as st

from app.look import html
from app.text.cautions import LINE, SHORT

_KEY = {
    "filled": "enough to say something",
    "hollow": "too few looks",
    "rest": "nobody looked",
    "line": "our line",
    "break": "no school",
    "band": "the middle half of this school’s classes, for context only",
    "before": "last term",
    "now": "this term",
    "planned": "planned that week",
    "given": "given",
    "none": "nothing to show",
    "change": "something changed",
}
STAVE_KEY = ("filled", "hollow", "rest", "line", "break")


def picture(spec: dict[str, Any], words: str, key: str) -> None:
    """A chart that carries its own words for those who hear the page."""
    st.vega_lite_chart(spec, theme=None, width="stretch", alt=words, key=f"chart-{key}")


def legend(*names: str) -> None:
    """What the shapes mean, in a line of their own."""
    inner = "".join(
        f'<li><span class="ro-shape ro-shape-{name}"></span>{html.inline(_KEY[name])}</li>'
        for name in names
    )
    st.html(f'<ul class="ro-key">{inner}</ul>')


def table(frame: pd.DataFrame, words: str, *, has_long_text: bool = False) -> None:
    """A plain table that a screen reader can walk through; short cells stay on one line."""
    kind = "long" if has_long_text else "short"
    slug = "".join(letter for letter in words.lower() if letter.isalnum())[:40]
    with st.container(key=f"{kind}-{slug}"):
        st.table(frame, hide_index=True, border="horizontal", alt=words)


def as_table(frame: pd.DataFrame, name: str, key: str, label: str = "The same as a table") -> None:
    """The numbers behind a chart: to read, and to take away with the cautions on top."""
    if frame.empty:
        return
    with st.expander(label, key=f"table-{key}"):
        table(frame, name)
        take_away(frame, "Download as CSV", key)


def take_away(frame: pd.DataFrame, label: str, key: str) -> None:
    """The same rows as a file."""
    st.download_button(
        label,
        _csv(frame),
        file_name=f"{key}.csv",
        mime="text/csv",
        key=f"csv-{key}",
        on_click="ignore",
    )


def _csv(frame: pd.DataFrame) -> bytes:
    """Comma-separated text with the caution as its last lines, so that the columns stay first."""
    quoted = "".join(f'"{text}"\r\n' for text in (SHORT, LINE))
    return ("\ufeff" + frame.to_csv(index=False, lineterminator="\r\n") + quoted).encode("utf-8")
