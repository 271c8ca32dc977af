"""A value on a line from nothing to all, with its range and our line."""

from __future__ import annotations

from app.charts.frame import Row, Spec, chart, end, field, layer, note_of
from app.charts.palette import SCREEN, Palette
from app.text.numbers import known, percent, percent_range, whole_percent
from app.text.readings import Reading

_SCALE = {"domain": [0, 100], "nice": False}
_FLAT = {"domain": [0, 1], "nice": False}


def range_bar(got: Reading, line: float | None = None, palette: Palette = SCREEN) -> Spec:
    """The range bar of a share; an empty track when there is nothing to show."""
    layers = [_track(palette)]
    if got.is_known and got.value is not None:
        layers += [*_range(got, palette), _dot(got, got.value, palette)]
    if line is not None:
        layers += _line(line, palette)
    return chart(layers, 40, palette, padding={"left": 4, "right": 4, "top": 2, "bottom": 0})


def range_words(title: str, got: Reading, line: float | None = None) -> str:
    """The same in words, for those who hear the page."""
    if not got.is_known:
        return f"{title}: nothing to show yet."
    ends = percent_range(got.low, got.high)
    spread = f", range {ends}" if ends else ""
    ours = f"; our line is {percent(line)}" if line is not None else ""
    return f"{title}: {percent(got.value)}{spread}{ours}."


def _track(palette: Palette) -> Spec:
    mark = {"type": "rule", "strokeWidth": 7, "strokeCap": "round", "color": palette.track}
    return layer(
        [{"from": 0, "to": 100, "y": 0.72}],
        mark,
        x=field("from", _SCALE),
        x2=end("to"),
        y=field("y", _FLAT),
    )


def _range(got: Reading, palette: Palette) -> list[Spec]:
    if got.low is None or got.high is None or not (known(got.low) and known(got.high)):
        return []
    row: Row = {"from": whole_percent(got.low), "to": whole_percent(got.high), "y": 0.72}
    mark = {"type": "rule", "strokeWidth": 7, "strokeCap": "round", "color": palette.pale}
    return [
        layer([row], mark, x=field("from", _SCALE), x2=end("to"), y=field("y", _FLAT)),
    ]


def _dot(got: Reading, value: float, palette: Palette) -> Spec:
    filled = got.is_enough
    mark = {
        "type": "point",
        "filled": True,
        "size": 150,
        "opacity": 1,
        "fill": palette.data if filled else palette.card,
        "stroke": palette.data if filled else palette.thin,
        "strokeWidth": 2,
    }
    words = f"{percent(value)} ({percent_range(got.low, got.high)})"
    row: Row = {"value": whole_percent(value), "y": 0.72, "words": words}
    return layer(
        [row], mark, x=field("value", _SCALE), y=field("y", _FLAT), tooltip=note_of("words")
    )


def _line(line: float, palette: Palette) -> list[Spec]:
    row: Row = {"line": whole_percent(line), "from": 0.5, "to": 0.95, "label": 0.12}
    row["words"] = f"our line {percent(line)}"
    tick = {"type": "rule", "strokeWidth": 2, "color": palette.change, "strokeDash": [3, 2]}
    text = {"type": "text", "align": "center", "fontSize": 11.5, "fill": palette.change}
    return [
        layer([row], tick, x=field("line", _SCALE), y=field("from", _FLAT), y2=end("to")),
        layer(
            [row],
            text,
            x=field("line", _SCALE),
            y=field("label", _FLAT),
            text={"field": "words"},
        ),
    ]
