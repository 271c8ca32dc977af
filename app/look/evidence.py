"""A chart with its words, and the same as a table that can be taken away."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import partial
from html import escape

import pandas as pd

from app.charts.frame import Spec
from app.charts.screen import as_html
from app.files import About, csv_file, xlsx_file
from app.look import html, view
from app.text.exact import on_screen
from app.text.readings import Reading
from app.text.tables import named_table

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
    "earlier": "before we decided",
    "since": "since then",
    "now": "this term",
    "planned": "planned that week",
    "given": "given",
    "none": "nothing to show",
    "change": "something changed",
}
_FORMATS = (
    ("CSV", csv_file, "csv", "text/csv"),
    (
        "XLSX",
        xlsx_file,
        "xlsx",
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ),
)
# Where the name of a file may go on in the next line.
_SEAM = re.compile(r"(?<=\w)([_/])(?=\w)")
STAVE_KEY = ("filled", "hollow", "rest", "line", "break")


def picture(spec: Spec, words: str) -> None:
    """A chart that carries its own words for those who hear the page."""
    html.put(as_html(spec, words))


def named_pictures(rows: Iterable[tuple[str, str, Spec, str]]) -> None:
    """Charts under each other, with a name and a quiet word beside each: one piece of the page."""
    drawn = [
        f"<div>{html.row_name(name, under)}</div>{as_html(spec, words)}"
        for name, under, spec, words in rows
    ]
    html.put("".join(f'<div class="ro-beside">{row}</div>' for row in drawn))


def legend(*names: str) -> None:
    """What the shapes mean, in a line of their own."""
    inner = "".join(
        f'<li><span class="ro-shape ro-shape-{name}"></span>{html.inline(_KEY[name])}</li>'
        for name in names
    )
    html.put(f'<ul class="ro-key">{inner}</ul>')


def table(
    frame: pd.DataFrame,
    words: str,
    *,
    has_long_text: bool = False,
    shown: int | None = None,
    key: str = "",
) -> None:
    """A plain table for reading, in an area that the keyboard can scroll when it is too wide.

    Our own, because the built-in table's scrolling area cannot be reached by keyboard. `shown`
    keeps the screen to the first rows; the files beneath hold all of them. `key` names the files;
    without one they are named after the words.
    """
    seen = on_screen(frame)
    head = "".join(f'<th scope="col">{escape(str(name))}</th>' for name in seen.columns)
    body = "".join(_table_row(row) for row in seen.head(shown or len(seen)).to_numpy().tolist())
    kind = "ro-table ro-long" if has_long_text else "ro-table"
    html.put(
        f'<div class="{kind}" role="region" tabindex="0" aria-label="{escape(words)}">'
        f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
    )
    take_away(frame, words, key or _slug(words))


def _table_row(cells: list[object]) -> str:
    first, *others = [html.inline(str(cell)) for cell in cells]
    rest = "".join(f"<td>{cell}</td>" for cell in others)
    seamed, seams = (first, 0) if "<" in first else _SEAM.subn(r"\1<wbr>", first)
    kind = ' class="ro-seamed"' if seams else ""
    return f'<tr><th scope="row"{kind}>{seamed}</th>{rest}</tr>'


def as_table(frame: pd.DataFrame, name: str, key: str, label: str = "The same as a table") -> None:
    """The numbers behind a chart: to read, and to take away with the cautions on top."""
    if frame.empty:
        return
    with html.folded(label):
        table(frame, name, key=key)


def one_number(name: str, got: Reading, key: str, unit: str = "share") -> None:
    """One number as a table: the counts and the range that its picture stands for."""
    as_table(named_table([(name, got)], "What", unit), name, key)


def take_away(frame: pd.DataFrame, name: str, key: str) -> None:
    """The same rows as files. A file is made when it is asked for, not when the page is drawn."""
    if frame.empty:
        return
    about, reader = view.about(name), html.reader()
    links = ""
    for word, make, ending, mime in _FORMATS:
        file_name = f"{key}-{about.as_of_on or about.build_id}.{ending}"
        file = view.offer(file_name, mime, partial(_made, make, frame, about, reader))
        links += (
            f'<a class="ro-take" href="{escape(file.address)}" download="{escape(file_name)}" '
            f'aria-label="Download as {word}: {escape(name)}">Download as {word}</a>'
        )
    html.put(f'<p class="ro-take-row">{links}</p>')


def _made(
    make: Callable[[pd.DataFrame, About], bytes], frame: pd.DataFrame, about: About, reader: str
) -> bytes:
    return make(frame, view.explained(about, frame, reader))


def _slug(words: str) -> str:
    """A plain name for a file: small letters and dashes."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")[:60]
