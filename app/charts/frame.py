"""What all our charts share: no frame, no ticks, our font, labels dark enough to read."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from app.charts.palette import Palette

Spec = dict[str, Any]
Row = dict[str, Any]

SHARES: dict[float, str] = {0: "0", 50: "50", 100: "100 %"}
_ONE_OF = "[datum.value]"
_PADDING = {"left": 0, "right": 4, "top": 4, "bottom": 0}


def chart(
    layers: list[Spec], height: int, palette: Palette, padding: dict[str, int] | None = None
) -> Spec:
    """A layered chart as wide as its card."""
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v6.json",
        "width": "container",
        "height": height,
        "background": "transparent",
        "padding": padding or _PADDING,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "layer": _with_one_axis(layers),
        "config": _config(palette),
    }


def _with_one_axis(layers: list[Spec]) -> list[Spec]:
    """Where one layer asks for an axis, the others must not forbid it: they share it."""
    for name in ("x", "y"):
        channels = [part["encoding"][name] for part in layers if name in part["encoding"]]
        if any(channel.get("axis") for channel in channels):
            for channel in channels:
                if channel.get("axis", "") is None:
                    del channel["axis"]
    return layers


def layer(rows: list[Row], mark: Spec, **encoding: Spec) -> Spec:
    """One layer with its own rows."""
    return {"data": {"values": rows}, "mark": mark, "encoding": encoding}


def field(name: str, scale: Spec | None = None, axis: Spec | None = None) -> Spec:
    """A quantitative channel; no axis unless one is given."""
    channel: Spec = {"field": name, "type": "quantitative", "axis": axis, "title": None}
    if scale is not None:
        channel["scale"] = scale
    return channel


def end(name: str) -> Spec:
    """The second end of a bar or a rule."""
    return {"field": name}


def labelled(names: Mapping[float, str]) -> Spec:
    """An axis with a label at each of these places, and no others."""
    texts = json.dumps({f"{place:g}": name for place, name in names.items()}, ensure_ascii=False)
    return {"values": list(names), "labelExpr": f"{texts}{_ONE_OF}"}


def labels_of(axis: Spec) -> list[tuple[float, str]]:
    """Places and labels of an axis that was labelled so; none for one of names."""
    if "labelExpr" not in axis:
        return []
    texts = json.loads(axis["labelExpr"].removesuffix(_ONE_OF))
    return [(place, texts[f"{place:g}"]) for place in axis["values"]]


def note_of(name: str) -> Spec:
    """The words shown when a mark is pointed at."""
    return {"field": name, "type": "nominal"}


def _config(palette: Palette) -> Spec:
    text = {"labelColor": palette.muted, "titleColor": palette.muted}
    return {
        "font": palette.font,
        "view": {"stroke": None, "fill": None},
        "axis": {
            **text,
            "domain": False,
            "ticks": False,
            "grid": False,
            "title": None,
            "labelFontSize": 11.5,
            "labelPadding": 6,
        },
        "text": {"font": palette.font, "fontSize": 12, "fill": palette.muted},
        "aria": True,
    }
