"""The sides of fidelity: a dot on a line for each, the weakest one marked as such."""

from __future__ import annotations

from app.charts.frame import Row, Spec, chart, end, field, layer, note_of
from app.charts.named_rows import end_numbers, name_axis
from app.charts.palette import SCREEN, Palette
from app.text.numbers import percent, percent_range, whole_percent
from app.text.readings import Reading

_ROW = 26
_LABEL_WIDTH = 96
_SCALE = {"domain": [0, 100], "nice": False}


def sides(
    rows: list[tuple[str, Reading]], weakest: str | None = None, palette: Palette = SCREEN
) -> Spec:
    """The chart; `weakest` is the name of the side to mark, None for none."""
    names = [name for name, _ in rows]
    drawn = [_row(name, got, weakest) for name, got in rows]
    track = {"type": "rule", "strokeWidth": 1, "color": palette.track}
    whole = [{"name": name, "from": 0, "to": 100} for name in names]
    layers = [
        layer(
            whole,
            track,
            y=name_axis(names, palette, _LABEL_WIDTH),
            x=field("from", _SCALE),
            x2=end("to"),
        ),
        *_dots(drawn, names, palette),
        end_numbers(drawn, names, _SCALE, palette),
    ]
    padding = {"left": 0, "right": 40, "top": 2, "bottom": 0}
    return chart(layers, _ROW * len(rows), palette, padding=padding)


def sides_words(rows: list[tuple[str, Reading]], weakest: str | None = None) -> str:
    """The same in words."""
    said = [f"{name} {percent(got.value)}" for name, got in rows if got.is_known]
    least = f"; the lowest is {weakest}" if weakest else ""
    return f"Sides of it: {', '.join(said) or 'nothing to show yet'}{least}."


def _row(name: str, got: Reading, weakest: str | None) -> Row:
    value = whole_percent(got.value) if got.is_known and got.value is not None else None
    look = "thin" if not got.is_enough else "weakest" if name == weakest else "plain"
    ends = percent_range(got.low, got.high)
    words = f"{name}: {percent(got.value)}{f' ({ends})' if ends else ''}"
    number = "–" if value is None else str(value)
    return {"name": name, "value": value, "look": look, "number": number, "words": words}


def _dots(rows: list[Row], names: list[str], palette: Palette) -> list[Spec]:
    found = []
    for look, fill, edge in (
        ("plain", palette.data, palette.data),
        ("weakest", palette.change, palette.change),
        ("thin", palette.card, palette.thin),
    ):
        some = [row for row in rows if row["look"] == look and row["value"] is not None]
        mark = {"type": "point", "filled": True, "size": 90, "opacity": 1, "strokeWidth": 1.6}
        place = {"y": name_axis(names, palette), "x": field("value", _SCALE)}
        if some:
            point = {**mark, "fill": fill, "stroke": edge}
            found.append(layer(some, point, **place, tooltip=note_of("words")))
    return found
