"""The teaching calendar: a bar for the lessons given each week, a line where the plan stood."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pandas as pd

from app.charts.frame import Row, Spec, chart, end, field, labelled, layer, note_of
from app.charts.palette import SCREEN, Palette
from app.charts.stave_marks import date_axis
from app.charts.stave_rows import Axis, axis_of
from app.text.dates import as_date, short_day
from app.text.numbers import counted, figure, tenth

_ROW = 40
_LABEL_WIDTH = 152
_TALLEST = 0.78


def teaching(
    weeks: pd.DataFrame,
    breaks: Sequence[tuple[date, date]],
    term_ends: Sequence[date],
    palette: Palette = SCREEN,
) -> Spec:
    """`weeks` has routine_name, week_first_on, lesson_count and due_count, a row a week."""
    axis = axis_of(weeks["week_first_on"], max(term_ends, default=None))
    names = list(dict.fromkeys(weeks["routine_name"]))
    rows = _rows(axis, weeks, names)
    layers = [
        *_bands(axis, breaks, names, palette),
        _bases(axis, names, palette),
        *_ends(axis, term_ends, names, palette),
        _given(rows, axis, names, palette),
        _planned(rows, axis, names, palette),
    ]
    return chart(layers, _ROW * len(names) + 6, palette)


def teaching_words(weeks: pd.DataFrame) -> str:
    """The same in words: lessons given, by routine."""
    said = [
        f"{name} {counted(part['lesson_count'].sum(), 'lesson')}"
        for name, part in weeks.groupby("routine_name", sort=False)
    ]
    return f"Lessons given, week by week: {'; '.join(said)}."


def _rows(axis: Axis, weeks: pd.DataFrame, names: list[str]) -> list[Row]:
    counts = [
        figure(value) or 0.0 for name in ("lesson_count", "due_count") for value in weeks[name]
    ]
    share = _TALLEST / max([1.0, *counts])
    found = []
    for week in weeks.to_dict("records"):
        monday = as_date(week["week_first_on"])
        if monday is None:
            continue
        due, given = figure(week["due_count"]) or 0.0, figure(week["lesson_count"]) or 0.0
        words = f"Week of {short_day(monday)}: {counted(given, 'lesson')} given"
        words += f", {tenth(due)} planned" if due else ""
        base = float(len(names) - 1 - names.index(week["routine_name"]))
        place = axis.place(monday)
        found.append(
            {
                "from": place - 0.4,
                "to": place + 4.4,
                "base": base,
                "given": base + given * share,
                "planned": base + due * share if due else None,
                "words": words,
            }
        )
    return found


def _x(axis: Axis, name: str, labels: Spec | None = None) -> Spec:
    return field(name, {"domain": axis.domain, "nice": False, "zero": False}, labels)


def _y(names: list[str], name: str, labels: Spec | None = None) -> Spec:
    return field(name, {"domain": [0, len(names)], "nice": False}, labels)


def _name_axis(names: list[str], palette: Palette) -> Spec:
    return {
        **labelled({len(names) - 1 - number: name for number, name in enumerate(names)}),
        "labelAlign": "left",
        "labelBaseline": "bottom",
        "labelPadding": _LABEL_WIDTH,
        "labelLimit": _LABEL_WIDTH,
        "labelFontSize": 13,
        "labelColor": palette.ink,
        "labelOverlap": False,
        "tickCount": len(names),
        "minExtent": _LABEL_WIDTH,
    }


def _bases(axis: Axis, names: list[str], palette: Palette) -> Spec:
    ends = {"from": axis.domain[0], "to": axis.domain[1]}
    rows = [{**ends, "base": number} for number in range(len(names))]
    mark = {"type": "rule", "strokeWidth": 1, "color": palette.stave}
    upright = _y(names, "base", _name_axis(names, palette))
    return layer(rows, mark, x=_x(axis, "from", date_axis(axis)), x2=end("to"), y=upright)


def _bands(
    axis: Axis, breaks: Sequence[tuple[date, date]], names: list[str], palette: Palette
) -> list[Spec]:
    rows = [
        {"from": axis.place(first) - 1, "to": axis.place(last) + 1, "low": 0, "high": len(names)}
        for first, last in breaks
        if first <= axis.last_on and last >= axis.first_on
    ]
    mark = {"type": "rect", "fill": palette.rest_band, "opacity": 1}
    place = {"x": _x(axis, "from"), "x2": end("to"), "y": _y(names, "low"), "y2": end("high")}
    return [layer(rows, mark, **place)] if rows else []


def _ends(axis: Axis, ends: Sequence[date], names: list[str], palette: Palette) -> list[Spec]:
    inside = [day for day in ends if axis.first_on <= day <= axis.last_on]
    found = []
    for shift, width in ((0.9, 1), (1.9, 2.5)):
        rows = [{"at": axis.place(day) + shift, "low": 0, "high": len(names)} for day in inside]
        mark = {"type": "rule", "strokeWidth": width, "color": palette.muted}
        found.append(layer(rows, mark, x=_x(axis, "at"), y=_y(names, "low"), y2=end("high")))
    return found if inside else []


def _given(rows: list[Row], axis: Axis, names: list[str], palette: Palette) -> Spec:
    mark = {"type": "rect", "fill": palette.pale, "stroke": None, "opacity": 1}
    some = [row for row in rows if row["given"] > row["base"]]
    place = {"x": _x(axis, "from"), "x2": end("to"), "y": _y(names, "base"), "y2": end("given")}
    return layer(some, mark, **place, tooltip=note_of("words"))


def _planned(rows: list[Row], axis: Axis, names: list[str], palette: Palette) -> Spec:
    mark = {"type": "rule", "strokeWidth": 2, "color": palette.data}
    some = [row for row in rows if row["planned"] is not None]
    place = {"x": _x(axis, "from"), "x2": end("to"), "y": _y(names, "planned")}
    return layer(some, mark, **place, tooltip=note_of("words"))
