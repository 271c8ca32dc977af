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
from app.charts.stave_rows import axis_of, notes_of, rests_of


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
    axis = axis_of(weeks, last_on)
    notes = notes_of(axis, weeks)
    drawn = [
        *marks.break_bands(axis, look.breaks, look.palette),
        *marks.class_band(axis, weeks, look.palette),
        marks.five_lines(axis, look),
        *marks.headings(axis, look),
        *marks.our_line(axis, look.line, look.palette),
        *marks.double_bars(axis, look.term_ends, look.palette),
        *marks.rests(rests_of(axis, weeks), axis, look.palette),
        *(marks.stems(notes, axis, look.palette) if look.has_stems else []),
        *marks.notes(notes, axis, look.palette),
        *marks.changes(axis, look),
    ]
    extra = (16 if look.changes else 0) + (20 if look.headings else 0)
    return chart(drawn, look.height + extra, look.palette)


def stave_words(title: str, weeks: pd.DataFrame, line: float | None = None) -> str:
    """The stave in one or two sentences, for those who hear the page."""
    axis = axis_of(weeks, None)
    notes = notes_of(axis, weeks)
    filled = [note for note in notes if note["is_enough"]]
    hidden = sum(1 for rest in rests_of(axis, weeks) if rest["is_withheld"])
    if not notes and not hidden:
        return f"{title}: nobody has looked in these weeks yet."
    said = [f"{title}: {len(notes)} of {len(weeks)} weeks with visits"]
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
