"""Where things stand in a chart: parts of its width across, pixels from its top downwards.

Scales are those of Vega-Lite for what our charts use of it: straight lines between the ends that
the layers name together, and rows of names of the same height each.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from app.charts.frame import Row, Spec

Ends = tuple[float, float]


@dataclass(frozen=True)
class Plot:
    """The place between the axes; `names` are the rows of a chart whose upright axis has names."""

    height: float
    across: Ends
    upright: Ends
    names: tuple[str, ...]
    is_clamped: bool

    def x(self, value: float) -> float:
        """From 0 to 100: the part of the width, from the left."""
        return 100 * self._part(value, self.across)

    def y(self, value: float | str) -> float:
        """Pixels from the top; a name stands in the middle of its row."""
        if isinstance(value, str):
            return self.height * (self.names.index(value) + 0.5) / len(self.names)
        return self.height * (1 - self._part(value, self.upright))

    def _part(self, value: float, ends: Ends) -> float:
        low, high = ends
        part = (value - low) / (high - low)
        return min(1.0, max(0.0, part)) if self.is_clamped else part


def plot_of(spec: Spec) -> Plot:
    """The plot of a chart; the layers share their scales."""
    upright = list(_channels(spec, "y"))
    named = [one for one in upright if one["type"] == "nominal"]
    across = list(_channels(spec, "x"))
    return Plot(
        height=float(spec["height"]),
        across=_ends(across),
        upright=_ends([one for one in upright if one["type"] == "quantitative"]),
        names=tuple(named[0]["scale"]["domain"]) if named else (),
        is_clamped=any(one.get("scale", {}).get("clamp") for one in [*across, *upright]),
    )


def _channels(spec: Spec, name: str) -> Iterator[Spec]:
    return (layer["encoding"][name] for layer in spec["layer"] if name in layer["encoding"])


def _ends(channels: list[Spec]) -> Ends:
    domains = [one["scale"]["domain"] for one in channels]
    if not domains:
        return (0.0, 1.0)
    return (min(one[0] for one in domains), max(one[1] for one in domains))


@dataclass(frozen=True)
class Marked:
    """One row of one layer, seen from the page."""

    plot: Plot
    layer: Spec
    row: Row

    @property
    def look(self) -> Spec:
        """The mark that the layer asks for."""
        mark: Spec = self.layer["mark"]
        return mark

    def has(self, channel: str) -> bool:
        """Whether the layer says something in a channel."""
        return channel in self.layer["encoding"]

    def x(self, channel: str = "x") -> float:
        """The part of the width at which it stands, or ends."""
        return self.plot.x(self._told(channel))

    def y(self, channel: str = "y") -> float:
        """How far down it stands, or ends, in pixels."""
        return self.plot.y(self._told(channel))

    def lines(self, channel: str) -> list[str]:
        """Its words, line by line; none where the layer has none."""
        words = self._told(channel) if self.has(channel) else []
        return [str(line) for line in words] if isinstance(words, list) else [str(words)]

    def _told(self, channel: str) -> Any:  # noqa: ANN401 - rows are as free as JSON
        return self.row[self.layer["encoding"][channel]["field"]]
