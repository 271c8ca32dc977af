"""The marks of a stave, one function each, from the back to the front."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from app.charts.frame import SHARES, Row, Spec, end, field, labelled, layer, note_of
from app.charts.palette import Palette
from app.charts.stave_rows import Axis, Weeks
from app.text.dates import as_date, short_day
from app.text.numbers import figure, whole_percent

if TYPE_CHECKING:
    from app.charts.stave import Stave

LINES = (0, 25, 50, 75, 100)
_MOST_DATES = 6
# Days from which a stave is a whole year, whose notes are drawn smaller.
_LONG = 150
# The part of the width that a label under the stave is given.
_LABEL = 0.26


def _x(axis: Axis, name: str, labels: Spec | None = None) -> Spec:
    return field(name, {"domain": axis.domain, "nice": False, "zero": False}, labels)


def _y(name: str, labels: Spec | None = None, ends: tuple[float, float] = (0, 100)) -> Spec:
    return field(name, {"domain": list(ends), "nice": False}, labels)


def _ends(look: Stave) -> tuple[float, float]:
    """The lines alone, with room under them for changes and over them for headings."""
    share = 100 / look.height
    return (-16 * share if look.changes else 0, 100 + (20 * share if look.headings else 0))


def five_lines(axis: Axis, look: Stave) -> Spec:
    """0, 25, 50, 75 and 100 %, with the labels of both axes when they are wanted."""
    rows = [{"from": axis.domain[0], "to": axis.domain[1], "y": y} for y in LINES]
    mark = {"type": "rule", "strokeWidth": 1, "color": look.palette.stave}
    upright = _share_axis() if look.has_labels else None
    along = date_axis(axis) if look.has_dates else None
    along_y = _y("y", upright, _ends(look))
    return layer(rows, mark, x=_x(axis, "from", along), x2=end("to"), y=along_y)


def headings(axis: Axis, look: Stave) -> list[Spec]:
    """Names over the lines: where each term begins."""
    top = _ends(look)[1]
    rows = [{"at": axis.place(day), "y": top, "label": label} for day, label in look.headings]
    text = {"type": "text", "align": "left", "baseline": "top", "fontSize": 12.5, "fontWeight": 700}
    # The style sheet knows it by this name: in a narrow chart it takes two small lines.
    text["style"] = "ro-heading"
    place = {"x": _x(axis, "at"), "y": _y("y", None, _ends(look))}
    mark = {**text, "fill": look.palette.ink}
    return [layer(rows, mark, **place, text={"field": "label"})] if rows else []


def break_bands(axis: Axis, breaks: Sequence[tuple[date, date]], palette: Palette) -> list[Spec]:
    """Pale bands where there was no school."""
    rows = [
        {
            "from": max(axis.place(first) - 1, axis.domain[0]),
            "to": min(axis.place(last) + 1, axis.domain[1]),
            "low": 0,
            "high": 100,
            "words": f"No school, {short_day(first)} to {short_day(last)}",
        }
        for first, last in breaks
        if first <= axis.last_on and last >= axis.first_on
    ]
    return _rects(axis, rows, palette.rest_band)


def class_band(axis: Axis, weeks: Weeks, palette: Palette) -> list[Spec]:
    """The middle half of the school's classes behind one class: context, no comparison."""
    rows: list[Row] = []
    for week in weeks:
        monday = as_date(week["week_first_on"])
        low, high = figure(week.get("band_low")), figure(week.get("band_high"))
        if monday is None or low is None or high is None:
            continue
        place = axis.place(monday)
        rows.append(
            {
                "from": place - 1.5,
                "to": place + 5.5,
                "low": whole_percent(low),
                "high": whole_percent(high),
                "words": "The middle half of this school’s classes, for context only",
            }
        )
    return _rects(axis, rows, palette.class_band)


def _rects(axis: Axis, rows: list[Row], colour: str) -> list[Spec]:
    if not rows:
        return []
    mark = {"type": "rect", "fill": colour, "stroke": None, "opacity": 1}
    return [
        layer(
            rows,
            mark,
            x=_x(axis, "from"),
            x2=end("to"),
            y=_y("low"),
            y2=end("high"),
            tooltip=note_of("words"),
        )
    ]


def our_line(axis: Axis, line: float | None, palette: Palette) -> list[Spec]:
    """The school's own criterion, dashed."""
    if line is None:
        return []
    row = {"from": axis.domain[0], "to": axis.domain[1], "y": whole_percent(line)}
    mark = {"type": "rule", "strokeWidth": 1.5, "strokeDash": [5, 4], "color": palette.change}
    return [layer([row], mark, x=_x(axis, "from"), x2=end("to"), y=_y("y"))]


def double_bars(axis: Axis, ends: Sequence[date], palette: Palette) -> list[Spec]:
    """A thin and a thick bar where a term ends."""
    inside = [day for day in ends if axis.first_on <= day <= axis.last_on]
    bars = []
    for shift, width in ((0.9, 1), (1.9, 2.5)):
        rows = [{"at": axis.place(day) + shift, "low": 0, "high": 100} for day in inside]
        mark = {"type": "rule", "strokeWidth": width, "color": palette.muted}
        bars.append(layer(rows, mark, x=_x(axis, "at"), y=_y("low"), y2=end("high")))
    return bars if inside else []


def rests(rows: list[Row], axis: Axis, palette: Palette) -> list[Spec]:
    """A short bar in the middle: nobody looked. Two dots instead: somebody did, withheld."""
    found = []
    told = {"y": _y("y"), "tooltip": note_of("words")}
    looked = [row for row in rows if not row["is_withheld"]]
    bar = {"type": "rule", "strokeWidth": 3.5, "color": palette.thin, "opacity": 0.75}
    if looked:
        found.append(layer(looked, bar, x=_x(axis, "from"), x2=end("to"), **told))
    hidden = [row for row in rows if row["is_withheld"]]
    dot = {"type": "point", "filled": True, "size": 12, "color": palette.thin, "opacity": 0.9}
    if hidden:
        found += [layer(hidden, dot, x=_x(axis, side), **told) for side in ("from", "to")]
    return found


def stems(rows: list[Row], axis: Axis, palette: Palette) -> list[Spec]:
    """The range of each note, as a thin stem."""
    found = []
    for is_enough, colour in ((False, palette.thin), (True, palette.data)):
        some = [row for row in rows if row["is_enough"] is is_enough]
        mark = {"type": "rule", "strokeWidth": 1.5, "color": colour, "opacity": 0.8}
        if some:
            found.append(layer(some, mark, x=_x(axis, "at"), y=_y("low"), y2=end("high")))
    return found


def notes(rows: list[Row], axis: Axis, palette: Palette) -> list[Spec]:
    """Filled: enough to say something. Hollow: too few looks."""
    found = []
    size = 80 if axis.domain[1] < _LONG else 42
    for is_enough in (False, True):
        some = [row for row in rows if row["is_enough"] is is_enough]
        mark = {
            "type": "point",
            "filled": True,
            "size": size,
            "opacity": 1,
            "fill": palette.data if is_enough else palette.card,
            "stroke": palette.data if is_enough else palette.thin,
            "strokeWidth": 1.6,
        }
        if some:
            place = {"x": _x(axis, "at"), "y": _y("value")}
            found.append(layer(some, mark, **place, tooltip=note_of("words")))
    return found


def changes(axis: Axis, look: Stave) -> list[Spec]:
    """Small labelled marks under the stave: what changed."""
    ends = _ends(look)
    rows = _change_rows(axis, look, ends[0] * 0.6)
    if not rows:
        return []
    point = {"type": "point", "shape": "triangle-up", "filled": True, "size": 60, "opacity": 1}
    near = {"x": _x(axis, "at"), "y": _y("y", None, ends)}
    colour = look.palette.change
    drawn = [layer(rows, {**point, "color": colour}, **near, tooltip=note_of("words"))]
    for side, shift in (("left", 8), ("right", -8)):
        some = [row for row in rows if row["side"] == side and row["label"]]
        text = {"type": "text", "align": side, "dx": shift, "dy": 1, "fontSize": 11.5}
        if some:
            mark = {**text, "fill": colour}
            drawn.append(layer(some, mark, **near, text={"field": "label", "type": "nominal"}))
    return drawn


def _change_rows(axis: Axis, look: Stave, y: float) -> list[Row]:
    """A change close behind another keeps its mark and its words on pointing, but no label."""
    inside = [(d, label) for d, label in sorted(look.changes) if axis.first_on <= d <= axis.last_on]
    places = [axis.place(day) for day, _ in inside]
    length = axis.place(axis.last_on) or 1.0
    found: list[Row] = []
    for (day, label), place in zip(inside, places, strict=True):
        side = "right" if place > length * 0.72 else "left"
        reach = (
            (place, place + length * _LABEL) if side == "left" else (place - length * _LABEL, place)
        )
        is_free = not any(reach[0] <= other <= reach[1] for other in places if other != place)
        taken = [row for row in found if row["label"] and row["side"] == "left"]
        is_free = is_free and not any(row["at"] + length * _LABEL > reach[0] for row in taken)
        words = f"{short_day(day)}: {label}"
        found.append(
            {"at": place, "y": y, "label": label if is_free else "", "side": side, "words": words}
        )
    return found


def _share_axis() -> Spec:
    return {
        **labelled(SHARES),
        "labelOverlap": False,
        "tickCount": 5,
        "minExtent": 44,
        "maxExtent": 44,
    }


def date_axis(axis: Axis) -> Spec:
    """Labels for a handful of Mondays, written as people write them."""
    weeks = int((axis.last_on - axis.first_on).days // 7) + 1
    step = max(1, -(-weeks // _MOST_DATES))
    days = [axis.first_on + timedelta(weeks=week) for week in range(0, weeks, step)]
    return {
        **labelled({axis.place(day): short_day(day) for day in days}),
        "labelAlign": "left",
        "labelOverlap": True,
        "labelSeparation": 6,
        "labelFlush": True,
    }
