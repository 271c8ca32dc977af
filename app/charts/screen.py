"""A chart on the screen, as plain HTML that fits whatever width there is.

Paper and screen share one description of a chart, in Vega-Lite's terms; on paper Vega-Lite draws
it. A page has a dozen small charts, and a browser takes longer to start Vega than to show all the
rest, so that here rules, bars, points and words are placed by their part of the width.
"""

from __future__ import annotations

from html import escape

from app.charts.axes import Room, labels, room_of
from app.charts.frame import Spec
from app.charts.marks import mark
from app.charts.plot import Marked, plot_of


def as_html(spec: Spec, words: str) -> str:
    """The chart; `words` is what it says to those who hear the page."""
    plot = plot_of(spec)
    drawn = "".join(
        mark(Marked(plot, layer, row), spec["config"]["text"])
        for layer in spec["layer"]
        for row in layer["data"]["values"]
    )
    return (
        f'<div class="ro-chart" role="img" aria-label="{escape(words)}" '
        f'style="padding:{_padding(room_of(spec))}">'
        f'<div class="ro-plot" style="height:{plot.height:g}px">'
        f"{drawn}{labels(plot, spec)}</div></div>"
    )


def _padding(room: Room) -> str:
    return " ".join(f"{side:g}px" for side in (room.top, room.right, room.bottom, room.left))
