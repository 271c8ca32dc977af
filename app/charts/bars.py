"""Plain bars on a pale track: a share for each of a few named groups."""

from __future__ import annotations

from app.charts.frame import Row, Spec, chart, end, field, layer, note_of
from app.charts.named_rows import end_numbers, name_axis
from app.charts.palette import SCREEN, Palette
from app.text.numbers import percent, percent_range, whole_percent
from app.text.readings import Reading

_ROW = 30
_LABEL_WIDTH = 104
_SCALE = {"domain": [0, 100], "nice": False}


def bars(rows: list[tuple[str, Reading]], palette: Palette = SCREEN) -> Spec:
    """The chart, in the order given."""
    names = [name for name, _ in rows]
    drawn = [_row(name, got) for name, got in rows]
    some = [row for row in drawn if row["value"] is not None]
    layers = [_bar([{**row, "value": 100} for row in drawn], names, palette, palette.track, True)]
    for is_enough, colour in ((True, palette.pale), (False, palette.thin)):
        part = [row for row in some if row["is_enough"] is is_enough]
        layers += [_bar(part, names, palette, colour)] if part else []
    layers.append(end_numbers(drawn, names, _SCALE, palette))
    padding = {"left": 0, "right": 44, "top": 2, "bottom": 0}
    return chart(layers, _ROW * len(rows), palette, padding=padding)


def bars_words(title: str, rows: list[tuple[str, Reading]]) -> str:
    """The same in words."""
    said = [f"{name} {percent(got.value) if got.is_known else 'not shown'}" for name, got in rows]
    return f"{title}: {'; '.join(said)}."


def _row(name: str, got: Reading) -> Row:
    value = whole_percent(got.value) if got.is_known and got.value is not None else None
    ends = percent_range(got.low, got.high)
    return {
        "name": name,
        "zero": 0,
        "value": value,
        "is_enough": got.is_enough,
        "number": "–" if value is None else str(value),
        "words": f"{name}: {percent(got.value)}{f' ({ends})' if ends else ''}",
    }


def _bar(
    rows: list[Row], names: list[str], palette: Palette, colour: str, is_track: bool = False
) -> Spec:
    mark = {"type": "bar", "height": 14, "cornerRadius": 3, "color": colour}
    place = {"x": field("zero", _SCALE), "x2": end("value")}
    more = {} if is_track else {"tooltip": note_of("words")}
    return layer(
        rows, mark, y=name_axis(names, palette, _LABEL_WIDTH if is_track else None), **place, **more
    )
