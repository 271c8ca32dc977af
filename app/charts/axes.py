"""The labels at the edges of a chart, and the room that they take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from app.charts.frame import Spec, labels_of
from app.charts.marks import letters, moved, part, pixels, words_at
from app.charts.plot import Plot

# A line of labels, from the end of their distance to the edge of the chart.
_LINE = 14
# So many labels fit beside each other in every chart.
_ALWAYS = 2


@dataclass(frozen=True)
class Room:
    """Pixels around the plot."""

    top: float
    right: float
    bottom: float
    left: float


def _axis(spec: Spec, name: str) -> Spec | None:
    for layer in spec["layer"]:
        axis = layer["encoding"].get(name, {}).get("axis")
        if axis:
            return {**spec["config"]["axis"], **axis}
    return None


def room_of(spec: Spec) -> Room:
    """What the axes need, and the distance from the edge that the chart asks for."""
    edge, upright, across = spec["padding"], _axis(spec, "y"), _axis(spec, "x")
    return Room(
        top=edge["top"],
        right=edge["right"],
        bottom=edge["bottom"] + (across["labelPadding"] + _LINE if across else 0),
        left=edge["left"] + (upright["minExtent"] if upright else 0),
    )


def labels(plot: Plot, spec: Spec) -> str:
    """The words at the left and under the plot."""
    return "".join((*_upright(plot, _axis(spec, "y")), *_across(plot, _axis(spec, "x"))))


def _upright(plot: Plot, axis: Spec | None) -> Iterator[str]:
    if axis is None:
        return
    places = [(plot.y(place), text) for place, text in labels_of(axis)]
    places += [(plot.y(name), name) for name in plot.names]
    is_left = axis.get("labelAlign") == "left"
    beside: dict[str, str] = {"right": "100%", "margin-right": pixels(axis["labelPadding"])}
    if is_left:
        beside = {"right": "100%", "width": pixels(axis["minExtent"]), "text-align": "left"}
    for down, text in places:
        styles = {
            **beside,
            "top": pixels(down),
            **moved("left", axis.get("labelBaseline", "middle")),
            **_lettered(axis),
        }
        yield words_at(styles, [text], "ro-cut" if is_left else "")


def _across(plot: Plot, axis: Spec | None) -> Iterator[str]:
    if axis is None:
        return
    places = labels_of(axis)
    is_thinned = bool(axis.get("labelOverlap")) and len(places) > _ALWAYS
    for number, (place, text) in enumerate(places):
        styles = {
            "left": part(plot.x(place)),
            "top": pixels(plot.height + axis["labelPadding"]),
            **moved(_side(plot, axis, place), "top"),
            **_lettered(axis),
        }
        yield words_at(styles, [text], _when_narrow(number) if is_thinned else "")


def _side(plot: Plot, axis: Spec, place: float) -> str:
    """Which end of the words stands at the place; at the edges they stay inside."""
    if not axis.get("labelFlush"):
        return "center"
    if place >= plot.across[1]:
        return "right"
    return "left" if place <= plot.across[0] else str(axis.get("labelAlign", "center"))


def _when_narrow(number: int) -> str:
    """Every second label gives way in a narrow chart, three of four in a very narrow one."""
    if number % 4 == 2:
        return "ro-third"
    return "ro-second" if number % 2 else ""


def _lettered(axis: Spec) -> dict[str, str]:
    return {"font-size": letters(axis["labelFontSize"]), "color": axis["labelColor"]}
