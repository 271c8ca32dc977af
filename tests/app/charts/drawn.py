"""Reads a drawn chart back: from the page, and from Vega-Lite, which draws the same on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser
from typing import Any

import vl_convert as vlc

WIDTH = 700
_PERCENT, _PIXELS = re.compile(r"(-?[\d.]+)%"), re.compile(r"(-? ?[\d.]+)px")


@dataclass(frozen=True)
class Thing:
    """One shape or word: the middle of it (of a word: its place), and how large it is."""

    x: float
    y: float
    wide: float
    high: float
    text: str


class _Elements(HTMLParser):
    """The shapes and words of a chart in their order, with their styles."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str], list[str]]] = []
        self.names: list[str] = []
        self.kinds: list[str] = []
        self.is_inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "br":
            return
        if given.get("role") == "img":
            self.names.append(given["aria-label"])
        self.is_inside = tag in ("i", "span") and "style" in given
        if self.is_inside:
            pairs = (one.split(":", 1) for one in given["style"].split(";"))
            self.found.append((tag, {name: value for name, value in pairs}, []))
            self.kinds.append(given.get("class", ""))

    def labelled(self) -> Iterator[tuple[tuple[str, dict[str, str], list[str]], str]]:
        """Words and their class."""
        return (one for one in zip(self.found, self.kinds, strict=True) if one[0][2])

    def handle_data(self, data: str) -> None:
        if self.is_inside:
            self.found[-1][2].append(data)

    def handle_endtag(self, tag: str) -> None:
        self.is_inside = False


def read(html: str) -> _Elements:
    """The elements of a chart on the screen."""
    parser = _Elements()
    parser.feed(html)
    return parser


def on_the_page(html: str, width: float) -> list[Thing]:
    """Everything inside the plot when it is so many pixels wide; labels at its left are apart."""
    things = []
    for tag, style, lines in read(html).found:
        if "left" not in style:
            continue
        x = _length(style["left"], width) + _length(style.get("margin-left", "0px"), width)
        y = _length(style["top"], width)
        wide = _length(style.get("width", "0px"), width)
        high = _length(style.get("height", "0px"), width)
        text = "|".join(lines)
        middle = (x + wide / 2, y + high / 2) if tag == "i" else (x, y)
        things.append(Thing(*middle, wide, high, text))
    return things


def _length(value: str, width: float) -> float:
    """`12%`, `3px` and `calc(12% - 3px)`, in pixels."""
    parts = sum(float(one) * width / 100 for one in _PERCENT.findall(value))
    return parts + sum(float(one.replace(" ", "")) for one in _PIXELS.findall(value))


def by_vega(spec: dict[str, Any]) -> tuple[float, list[Thing]]:
    """How wide Vega-Lite makes the plot of a chart, and where it puts its marks and labels."""
    told = vlc.vegalite_to_scenegraph({**spec, "width": WIDTH}, allowed_base_urls=[])
    plot = told["scenegraph"]["items"][0]
    marks = [one for one in plot["items"] if one["role"] == "mark"]
    things = [_thing(mark["marktype"], item) for mark in marks for item in mark["items"]]
    return float(plot["width"]), [*things, *_labels(plot)]


def _labels(plot: dict[str, Any]) -> Iterator[Thing]:
    """Labels under the plot: what stands in the group of the axis below it."""
    for axis in (one for one in plot["items"] if one["role"] == "axis"):
        for group in (one for one in axis["items"] if one.get("orient") == "bottom"):
            for part in (one for one in group["items"] if one["role"] == "axis-label"):
                for item in part["items"]:
                    y = group["y"] + item["y"]
                    yield Thing(item["x"], y, 0, 0, str(item["text"]))


def _thing(kind: str, item: dict[str, Any]) -> Thing:
    x, y = item.get("x", 0.0), item.get("y", 0.0)
    if kind == "text":
        text = item["text"]
        words = "|".join(text) if isinstance(text, list) else str(text)
        return Thing(x + item.get("dx", 0), y + item.get("dy", 0), 0, 0, words)
    if kind == "symbol":
        broad = item["size"] ** 0.5 + (item.get("strokeWidth", 0) if "stroke" in item else 0)
        return Thing(x, y, broad, broad, "")
    if kind == "rect":
        wide, high = item["width"], item["height"]
        return Thing(x + wide / 2, y + high / 2, wide, high, "")
    return _ruled(x, y, item)


def _ruled(x: float, y: float, item: dict[str, Any]) -> Thing:
    x2, y2, broad = item.get("x2", x), item.get("y2", y), item["strokeWidth"]
    cap = broad if item.get("strokeCap") == "round" else 0
    wide, high = abs(x2 - x), abs(y2 - y)
    size = (wide + cap, broad) if wide else (broad, high)
    return Thing((x + x2) / 2, (y + y2) / 2, *size, "")
