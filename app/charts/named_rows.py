"""Rows with a name on the left and a number on the right: what pairs, bars and sides share."""

from __future__ import annotations

from app.charts.frame import Row, Spec, field, layer
from app.charts.palette import Palette


def name_axis(names: list[str], palette: Palette, width: int | None = None) -> Spec:
    """The upright channel of named rows in the order given; with labels when a width is given."""
    axis = None
    if width is not None:
        axis = {
            "labelAlign": "left",
            "labelPadding": width,
            "labelLimit": width,
            "labelFontSize": 13,
            "labelColor": palette.ink,
            "minExtent": width,
        }
    kind = {"field": "name", "type": "nominal", "title": None}
    return {**kind, "scale": {"domain": names}, "axis": axis}


def end_numbers(rows: list[Row], names: list[str], scale: Spec, palette: Palette) -> Spec:
    """The number of each row, in a column of its own at the right."""
    mark = {"type": "text", "align": "left", "dx": 12, "fontSize": 13, "fill": palette.ink}
    return layer(
        [{**row, "end": 100} for row in rows],
        mark,
        y=name_axis(names, palette),
        x=field("end", scale),
        text={"field": "number", "type": "nominal"},
    )
