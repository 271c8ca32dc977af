"""A chart with its words, and the same as a table that can be taken away."""

from __future__ import annotations

from html import escape
from typing import Any

import pandas as pd
import streamlit as st

from app.look import html
from app.text.cautions import LINE, SHORT
from app.text.places import unlinked

_KEY = {
    "filled": "enough to say something",
    "hollow": "too few looks",
    "few": "in grey: too few looks",
    "rest": "nobody looked",
    "withheld": "withheld: too few to show",
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
    """A plain table for reading, in an area that the keyboard can scroll when it is too wide.

    Our own, because the built-in table's scrolling area cannot be reached by keyboard.
    """
    head = "".join(f'<th scope="col">{escape(str(name))}</th>' for name in frame.columns)
    body = "".join(_table_row(row) for row in frame.to_numpy().tolist())
    kind = "ro-table ro-long" if has_long_text else "ro-table"
    st.html(
        f'<div class="{kind}" role="region" tabindex="0" aria-label="{escape(words)}">'
        f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _table_row(cells: list[object]) -> str:
    first, *others = [html.inline(str(cell)) for cell in cells]
    rest = "".join(f"<td>{cell}</td>" for cell in others)
    return f'<tr><th scope="row">{first}</th>{rest}</tr>'


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
    plain = frame.map(lambda cell: unlinked(cell) if isinstance(cell, str) else cell)
    return ("\ufeff" + plain.to_csv(index=False, lineterminator="\r\n") + quoted).encode("utf-8")
