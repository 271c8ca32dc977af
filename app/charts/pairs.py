"""Hollow to filled: last term and this term of the same group, never one group against another."""

from __future__ import annotations

from dataclasses import dataclass

import pandas as pd

from app.charts.frame import Row, Spec, chart, end, field, labelled, layer, note_of
from app.charts.named_rows import end_numbers, name_axis
from app.charts.palette import SCREEN, Palette
from app.text.numbers import figure, known, percent, points, whole_percent
from app.text.readings import ENOUGH, Reading, reading

_ROW = 27
_LABEL_WIDTH = 104


@dataclass(frozen=True)
class Pair:
    """One row: a name, what was, what is. A value without enough behind it is drawn grey."""

    name: str
    now: Reading
    before: float | None = None
    before_is_enough: bool = False


def pairs(
    rows: list[Pair],
    line: float | None = None,
    palette: Palette = SCREEN,
    name_width: int = _LABEL_WIDTH,
) -> Spec:
    """The chart, in the order given (never sorted by value)."""
    names = [row.name for row in rows]
    marked = [_marked(row) for row in rows]
    scale = {"domain": [_floor(marked), 100], "nice": False, "clamp": True}
    layers = [
        _tracks(names, scale, palette, name_width),
        *_line(names, line, scale, palette),
        *_links(marked, names, scale, palette),
        *_befores(marked, names, scale, palette),
        *_nows(marked, names, scale, palette),
        end_numbers(marked, names, scale, palette),
    ]
    padding = {"left": 0, "right": 40, "top": 4, "bottom": 0}
    return chart(layers, _ROW * len(rows), palette, padding=padding)


def pairs_words(title: str, rows: list[Pair]) -> str:
    """The same in words."""
    said = []
    for row in rows:
        text = f"{row.name} {percent(row.now.value)}"
        if row.now.is_known and row.before is not None and known(row.before) and row.now.value:
            text += f" ({points(row.before, row.now.value)} on last term)"
        said.append(text if row.now.is_known else f"{row.name} nothing to show")
    return f"{title}: {'; '.join(said)}."


def _marked(row: Pair) -> Row:
    value = whole_percent(row.now.value) if row.now.is_known and row.now.value is not None else None
    shown = row.before is not None and known(row.before) and value is not None
    before = whole_percent(row.before) if shown and row.before is not None else None
    return {
        "name": row.name,
        "value": value,
        "before": before,
        "is_enough": row.now.is_enough,
        "before_is_enough": row.before_is_enough,
        "number": "–" if value is None else str(value),
        "words": pairs_words("", [row]).removeprefix(": "),
    }


def _floor(rows: list[Row]) -> int:
    values: list[int] = [
        row[key] for row in rows for key in ("value", "before") if row[key] is not None
    ]
    return max(0, min([50, *(value - 8 for value in values)]) // 10 * 10)


def _tracks(names: list[str], scale: Spec, palette: Palette, name_width: int) -> Spec:
    rows = [{"name": name, "from": scale["domain"][0], "to": 100} for name in names]
    mark = {"type": "rule", "strokeWidth": 1, "color": palette.track}
    # Only the last says what they are: on a phone there is no room for more.
    floor = scale["domain"][0]
    below = labelled({floor: str(floor), 100: "100 %"})
    apart = {"labelFlush": True, "labelOverlap": "greedy", "labelSeparation": 4}
    axis = {**below, **apart, "labelColor": palette.muted}
    return layer(
        rows,
        mark,
        y=name_axis(names, palette, name_width),
        x=field("from", scale, axis),
        x2=end("to"),
    )


def _line(names: list[str], line: float | None, scale: Spec, palette: Palette) -> list[Spec]:
    if line is None or not names:
        return []
    mark = {"type": "rule", "strokeWidth": 1.5, "strokeDash": [5, 4], "color": palette.change}
    return [layer([{"line": whole_percent(line)}], mark, x=field("line", scale))]


def _links(rows: list[Row], names: list[str], scale: Spec, palette: Palette) -> list[Spec]:
    some = [row for row in rows if row["before"] is not None]
    mark = {"type": "rule", "strokeWidth": 2, "color": palette.pale}
    place = {"y": name_axis(names, palette), "x": field("before", scale), "x2": end("value")}
    return [layer(some, mark, **place)] if some else []


def _befores(rows: list[Row], names: list[str], scale: Spec, palette: Palette) -> list[Spec]:
    found = []
    for is_enough, colour in ((True, palette.data), (False, palette.thin)):
        some = [r for r in rows if r["before"] is not None and r["before_is_enough"] is is_enough]
        mark = {"type": "point", "filled": True, "size": 85, "opacity": 1, "strokeWidth": 1.8}
        hollow = {**mark, "fill": palette.card, "stroke": colour}
        place = {"y": name_axis(names, palette), "x": field("before", scale)}
        found += [layer(some, hollow, **place, tooltip=note_of("words"))] if some else []
    return found


def _nows(rows: list[Row], names: list[str], scale: Spec, palette: Palette) -> list[Spec]:
    found = []
    for is_enough, colour in ((True, palette.data), (False, palette.thin)):
        some = [r for r in rows if r["value"] is not None and r["is_enough"] is is_enough]
        mark = {"type": "point", "filled": True, "size": 105, "opacity": 1, "fill": colour}
        place = {"y": name_axis(names, palette), "x": field("value", scale)}
        found += [layer(some, mark, **place, tooltip=note_of("words"))] if some else []
    return found


def pairs_of(frame: pd.DataFrame, name: str) -> list[Pair]:
    """Pairs from rows of a measure table that carries the term before."""
    return [
        Pair(
            str(row[name]),
            reading(row),
            figure(row.get("previous_value")),
            str(row.get("previous_sufficiency")) in ENOUGH,
        )
        for row in frame.to_dict("records")
    ]
