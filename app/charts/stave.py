"""The stave: five lines from 0 to 100 %, a note for each week's visits, a rest where nobody looked.

One builder for the screen, for paper and for the words that stand in for the picture. Notes are not
joined, absence is drawn and never zero, breaks are pale bands, a term ends with a double bar line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from dataclasses import field as default
from datetime import date
from typing import Any

import pandas as pd

from app.charts import stave_marks as marks
from app.charts.frame import Spec, chart
from app.charts.palette import SCREEN, Palette
from app.charts.stave_rows import Axis, Weeks, axis_of, notes_of, rests_of


@dataclass(frozen=True)
class Stave:
    """What is drawn around the notes. Dates are days; bands come from the weeks themselves."""

    line: float | None = None
    breaks: Sequence[tuple[date, date]] = ()
    term_ends: Sequence[date] = ()
    changes: Sequence[tuple[date, str]] = ()
    headings: Sequence[tuple[date, str]] = ()
    height: int = 58
    has_labels: bool = True
    has_dates: bool = False
    has_stems: bool = True
    palette: Palette = default(default=SCREEN)


def stave(weeks: pd.DataFrame, look: Stave, last_on: date | None = None) -> Spec:
    """The chart of one routine's weeks.

    `weeks` has week_first_on and a measure row (value, low, high, sufficiency ...), and may have
    band_low and band_high: the middle half of the school's classes. `last_on` is the last day of
    the picture, so that a term still running leaves its empty weeks to come.
    """
    return _drawn(_read(weeks, last_on), look)


def stave_words(title: str, weeks: pd.DataFrame, line: float | None = None) -> str:
    """The stave in one or two sentences, for those who hear the page."""
    return _said(title, _read(weeks, None), line)


def stave_and_words(
    title: str, weeks: pd.DataFrame, look: Stave, last_on: date | None = None
) -> tuple[Spec, str]:
    """Both, from one reading of the weeks."""
    found = _read(weeks, last_on)
    return _drawn(found, look), _said(title, found, look.line)


@dataclass(frozen=True)
class _Found:
    """Weeks as a stave reads them."""

    weeks: Weeks
    axis: Axis
    notes: list[dict[str, Any]]
    rests: list[dict[str, Any]]


def _read(weeks: pd.DataFrame, last_on: date | None) -> _Found:
    rows = weeks.to_dict("records")
    axis = axis_of((row["week_first_on"] for row in rows), last_on)
    return _Found(rows, axis, notes_of(axis, rows), rests_of(axis, rows))


def _drawn(found: _Found, look: Stave) -> Spec:
    axis = found.axis
    drawn = [
        *marks.break_bands(axis, look.breaks, look.palette),
        *marks.class_band(axis, found.weeks, look.palette),
        marks.five_lines(axis, look),
        *marks.headings(axis, look),
        *marks.our_line(axis, look.line, look.palette),
        *marks.double_bars(axis, look.term_ends, look.palette),
        *marks.rests(found.rests, axis, look.palette),
        *(marks.stems(found.notes, axis, look.palette) if look.has_stems else []),
        *marks.notes(found.notes, axis, look.palette),
        *marks.changes(axis, look),
    ]
    extra = (16 if look.changes else 0) + (20 if look.headings else 0)
    return chart(drawn, look.height + extra, look.palette)


def _said(title: str, found: _Found, line: float | None) -> str:
    notes = found.notes
    filled = [note for note in notes if note["is_enough"]]
    hidden = sum(1 for rest in found.rests if rest["is_withheld"])
    if not notes and not hidden:
        return f"{title}: nobody has looked in these weeks yet."
    said = [f"{title}: {len(notes)} of {len(found.weeks)} weeks with visits"]
    if hidden:
        said.append(f"{hidden} withheld")
    if filled:
        said.append(_span(filled))
    if line is not None and filled:
        said.append(_against(filled, line))
    return ", ".join(said) + "."


def _span(filled: list[dict[str, Any]]) -> str:
    values = [note["value"] for note in filled]
    last = filled[-1]
    where = "" if min(values) == max(values) else f"between {min(values)} and {max(values)} %, "
    return (
        f"{len(filled)} with enough to say: {where}most lately {last['value']} % ({last['when']})"
    )


def _against(filled: list[dict[str, Any]], line: float) -> str:
    over = sum(1 for note in filled if note["value"] >= round(line * 100))
    return f"{over} of those at or over our line of {round(line * 100)} %"
