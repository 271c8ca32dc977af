"""The teaching calendar: a ring for what the plan had opened that week, a disc for the given."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pandas as pd

from app.charts.frame import Row, Spec, chart, end, field, layer, note_of
from app.charts.named_rows import name_axis
from app.charts.palette import SCREEN, Palette
from app.charts.stave_marks import date_axis
from app.charts.stave_rows import Axis, axis_of
from app.text.dates import as_date, short_day
from app.text.numbers import counted, figure, tenth

_ROW = 40
_LABEL_WIDTH = 132
_LARGEST = 620


def teaching(
    weeks: pd.DataFrame,
    breaks: Sequence[tuple[date, date]],
    term_ends: Sequence[date],
    palette: Palette = SCREEN,
) -> Spec:
    """`weeks` has routine_name, week_first_on, lesson_count and due_count, a row a week."""
    axis = axis_of(weeks, max(term_ends, default=None))
    names = list(dict.fromkeys(weeks["routine_name"]))
    rows = _rows(axis, weeks)
    most = max([1.0, *(row["given"] for row in rows), *(row["due"] for row in rows)])
    layers = [
        *_bands(axis, breaks, palette),
        _lines(axis, names, palette),
        *_ends(axis, term_ends, palette),
        _rings(rows, axis, names, most, palette),
        _discs(rows, axis, names, most, palette),
    ]
    return chart(layers, _ROW * len(names) + 4, palette)


def teaching_words(weeks: pd.DataFrame) -> str:
    """The same in words: lessons given, by routine."""
    said = [
        f"{name} {counted(part['lesson_count'].sum(), 'lesson')}"
        for name, part in weeks.groupby("routine_name", sort=False)
    ]
    return f"Lessons given, week by week: {'; '.join(said)}."


def _rows(axis: Axis, weeks: pd.DataFrame) -> list[Row]:
    found = []
    for week in weeks.to_dict("records"):
        monday = as_date(week["week_first_on"])
        if monday is None:
            continue
        due = figure(week["due_count"]) or 0.0
        given = figure(week["lesson_count"]) or 0.0
        words = f"Week of {short_day(monday)}: {counted(given, 'lesson')} given"
        if due:
            words += f", {tenth(due)} planned"
        place = axis.place(monday) + 2
        name = week["routine_name"]
        found.append({"name": name, "at": place, "due": due, "given": given, "words": words})
    return found


def _x(axis: Axis, name: str, labels: Spec | None = None) -> Spec:
    return field(name, {"domain": axis.domain, "nice": False, "zero": False}, labels)


def _size(name: str, most: float) -> Spec:
    scale = {"domain": [0, most], "range": [0, _LARGEST], "type": "linear"}
    return {"field": name, "type": "quantitative", "scale": scale, "legend": None}


def _lines(axis: Axis, names: list[str], palette: Palette) -> Spec:
    rows = [{"name": name, "from": axis.domain[0], "to": axis.domain[1]} for name in names]
    mark = {"type": "rule", "strokeWidth": 1, "color": palette.stave}
    along = _x(axis, "from", date_axis(axis))
    return layer(rows, mark, y=name_axis(names, palette, _LABEL_WIDTH), x=along, x2=end("to"))


def _bands(axis: Axis, breaks: Sequence[tuple[date, date]], palette: Palette) -> list[Spec]:
    rows = [
        {"from": axis.place(first) - 1, "to": axis.place(last) + 1}
        for first, last in breaks
        if first <= axis.last_on and last >= axis.first_on
    ]
    mark = {"type": "rect", "fill": palette.rest_band, "opacity": 1}
    return [layer(rows, mark, x=_x(axis, "from"), x2=end("to"))] if rows else []


def _ends(axis: Axis, ends: Sequence[date], palette: Palette) -> list[Spec]:
    inside = [day for day in ends if axis.first_on <= day <= axis.last_on]
    return [
        layer(
            [{"at": axis.place(day) + shift} for day in inside],
            {"type": "rule", "strokeWidth": width, "color": palette.muted},
            x=_x(axis, "at"),
        )
        for shift, width in ((0.9, 1), (1.9, 2.5))
        if inside
    ]


def _rings(rows: list[Row], axis: Axis, names: list[str], most: float, palette: Palette) -> Spec:
    mark = {
        "type": "point",
        "filled": True,
        "fill": palette.card,
        "stroke": palette.thin,
        "strokeWidth": 1.4,
        "opacity": 1,
    }
    some = [row for row in rows if row["due"] > 0]
    return layer(
        some,
        mark,
        x=_x(axis, "at"),
        y=name_axis(names, palette),
        size=_size("due", most),
        tooltip=note_of("words"),
    )


def _discs(rows: list[Row], axis: Axis, names: list[str], most: float, palette: Palette) -> Spec:
    mark = {"type": "point", "filled": True, "fill": palette.data, "opacity": 1, "strokeWidth": 0}
    some = [row for row in rows if row["given"] > 0]
    return layer(
        some,
        mark,
        x=_x(axis, "at"),
        y=name_axis(names, palette),
        size=_size("given", most),
        tooltip=note_of("words"),
    )
