"""Rules, bars, points and words of a chart, each as one element of a page."""

from __future__ import annotations

from html import escape
from math import sqrt

from app.charts.frame import Spec
from app.charts.plot import Marked

_HALF = {"center": "-50%", "right": "-100%", "middle": "-50%", "bottom": "-100%"}
_PIXELS_OF_ONE = 16


def mark(one: Marked, usual_text: Spec) -> str:
    """One row of one layer."""
    kind = one.look["type"]
    if kind == "text":
        return _text(one, usual_text)
    styles = {"rule": _rule, "point": _point, "rect": _rect, "bar": _rect}[kind](one)
    if one.look.get("opacity", 1) != 1:
        styles["opacity"] = _short(one.look["opacity"])
    words = " ".join(one.lines("tooltip"))
    title = f' title="{escape(words)}"' if words else ""
    return f'<i style="{_styled(styles)}"{title}></i>'


def words_at(styles: dict[str, str], lines: list[str], kind: str = "") -> str:
    """Words at a place; several lines stand under each other."""
    inner = "<br>".join(escape(line) for line in lines)
    named = f' class="{kind}"' if kind else ""
    return f'<span{named} style="{_styled(styles)}">{inner}</span>'


def moved(align: str, baseline: str) -> dict[str, str]:
    """How far words are moved so that the place is their middle, their end, their foot."""
    across, down = _HALF.get(align, "0"), _HALF.get(baseline, "0")
    return {} if (across, down) == ("0", "0") else {"transform": f"translate({across},{down})"}


def letters(size: float) -> str:
    """A size of letters that grows with the reader's own."""
    return f"{_short(size / _PIXELS_OF_ONE)}rem"


def part(value: float) -> str:
    """A part of the width."""
    return f"{_short(value)}%"


def pixels(value: float) -> str:
    """A length that is the same in every width."""
    return f"{_short(value)}px"


def _short(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _styled(styles: dict[str, str]) -> str:
    return ";".join(f"{name}:{value}" for name, value in styles.items())


def _whole(length: float) -> int:
    """A whole number of pixels: a line is as thick wherever it happens to lie on a screen."""
    return max(1, int(length + 0.5))


def _rule(one: Marked) -> dict[str, str]:
    return _level(one) if one.has("x2") else _steep(one)


def _level(one: Marked) -> dict[str, str]:
    look, broad = one.look, _whole(one.look["strokeWidth"])
    reach = broad / 2 if look.get("strokeCap") == "round" else 0
    box = {
        **_span(one, reach),
        "top": pixels(one.y() - broad / 2),
        "height": pixels(broad),
        "background": _stroke(look, "90deg"),
    }
    return {**box, "border-radius": pixels(broad)} if reach else box


def _steep(one: Marked) -> dict[str, str]:
    """From one height to another, or from the top to the foot of the plot."""
    broad = _whole(one.look["strokeWidth"])
    top, bottom = 0.0, one.plot.height
    if one.has("y"):
        top, bottom = sorted((one.y(), one.y("y2")))
    return {
        "left": part(one.x()),
        "width": pixels(broad),
        "margin-left": pixels(-broad / 2),
        "top": pixels(top),
        "height": pixels(bottom - top),
        "background": _stroke(one.look, "180deg"),
    }


def _span(one: Marked, reach: float = 0) -> dict[str, str]:
    left, right = sorted((one.x(), one.x("x2")))
    if not reach:
        return {"left": part(left), "width": part(right - left)}
    return {
        "left": f"calc({part(left)} - {pixels(reach)})",
        "width": f"calc({part(right - left)} + {pixels(2 * reach)})",
    }


def _stroke(look: Spec, along: str) -> str:
    dash = look.get("strokeDash")
    if not dash:
        return str(look["color"])
    (on, off), colour = dash, look["color"]
    stops = f"{colour} 0 {on}px,transparent {on}px {on + off}px"
    return f"repeating-linear-gradient({along},{stops})"


def _rect(one: Marked) -> dict[str, str]:
    look = one.look
    if "height" in look:
        top, high = one.y() - look["height"] / 2, look["height"]
    else:
        top, bottom = sorted((one.y(), one.y("y2")))
        high = bottom - top
    box = {**_span(one), "top": pixels(top), "height": pixels(high)}
    corner = {"border-radius": pixels(look["cornerRadius"])} if "cornerRadius" in look else {}
    return {**box, **corner, "background": look.get("fill") or look["color"]}


def _point(one: Marked) -> dict[str, str]:
    """A circle or a triangle as large as Vega draws it: `size` is the square around it."""
    look = one.look
    edge = look["strokeWidth"] if look.get("stroke") else 0
    broad = sqrt(look["size"]) + edge
    is_triangle = look.get("shape") == "triangle-up"
    high = broad * sqrt(3) / 2 if is_triangle else broad
    box = {
        "left": part(one.x()),
        "top": pixels(one.y() - high / 2),
        "width": pixels(broad),
        "height": pixels(high),
        "margin-left": pixels(-broad / 2),
        "background": look.get("fill") or look["color"],
    }
    if is_triangle:
        return {**box, "clip-path": "polygon(50% 0,0 100%,100% 100%)"}
    border = {"border": f"{_short(edge)}px solid {look['stroke']}"} if edge else {}
    return {**box, "border-radius": "50%", **border}


def _text(one: Marked, usual: Spec) -> str:
    look: Spec = {**usual, **one.look}
    styles = {
        "left": part(one.x()),
        "top": pixels(one.y() + look.get("dy", 0)),
        **({"margin-left": pixels(look["dx"])} if look.get("dx") else {}),
        **moved(look.get("align", "center"), look.get("baseline", "middle")),
        "font-size": letters(look["fontSize"]),
        **({"font-weight": str(look["fontWeight"])} if "fontWeight" in look else {}),
        **({"line-height": pixels(look["lineHeight"])} if "lineHeight" in look else {}),
        "color": look["fill"],
    }
    return words_at(styles, one.lines("text"), look.get("style", ""))
