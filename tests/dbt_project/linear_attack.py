"""What a reader with a linear programme can work out from published counts.

Every count is an unknown; what is published, and everything that adds up to something else, is a
line of a linear system; a reason that tells of a size is a bound. The lowest and the highest value
that a withheld count can have in the system is all that anybody can know of it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import coo_array, vstack

Line = Mapping[str, float]


@dataclass
class System:
    """Unknown counts, none negative, with the lines and bounds that a reader knows."""

    lines: list[tuple[Line, float, float]] = field(default_factory=list)
    bounds: dict[str, tuple[float, float]] = field(default_factory=dict)

    def publish(self, name: str, count: float) -> None:
        """The count is read off a page."""
        self.bound(name, count, count)

    def bound(self, name: str, low: float, high: float) -> None:
        """The count is known to lie between the two; what was known before still holds."""
        before = self.bounds.get(name, (0.0, np.inf))
        self.bounds[name] = (max(before[0], low), min(before[1], high))

    def adds_up(self, parts: Iterable[str], total: str) -> None:
        """The parts make the total."""
        self.between({**dict.fromkeys(parts, 1.0), total: -1.0}, 0.0, 0.0)

    def between(self, line: Line, low: float, high: float) -> None:
        """A sum of counts, each times a number, lies between the two."""
        self.lines.append((line, low, high))

    def names(self) -> set[str]:
        return set(self.bounds) | {name for line, _, _ in self.lines for name in line}


@dataclass(frozen=True)
class Known:
    """All that the system says of one count."""

    low: float
    high: float

    @property
    def is_exact(self) -> bool:
        return self.high - self.low < 1e-6


def known(system: System, wanted: Iterable[str]) -> dict[str, Known]:
    """The range of each wanted count. A system that contradicts itself is an error."""
    found: dict[str, Known] = {}
    part_of = _parts(system)
    grouped: dict[str, list[str]] = defaultdict(list)
    for name in wanted:
        grouped[part_of[name]].append(name)
    for part, names in grouped.items():
        found.update(_solve(system, [name for name in part_of if part_of[name] == part], names))
    return found


def _parts(system: System) -> dict[str, str]:
    """Counts that no line joins need not be solved together: the first name of each part."""
    above = {name: name for name in system.names()}

    def top(name: str) -> str:
        while above[name] != name:
            above[name] = above[above[name]]
            name = above[name]
        return name

    for line, _, _ in system.lines:
        names = [name for name in line if not _is_shown(system, name)]
        for name in names[1:]:
            above[top(name)] = top(names[0])
    return {name: top(name) for name in above}


def _is_shown(system: System, name: str) -> bool:
    low, high = system.bounds.get(name, (0.0, np.inf))
    return low == high


def _solve(system: System, names: list[str], wanted: list[str]) -> dict[str, Known]:
    place = {name: number for number, name in enumerate(names)}
    limits = [system.bounds.get(name, (0.0, np.inf)) for name in names]
    uppers, lowers, entries = [], [], []
    for line, low, high in system.lines:
        mine = {name: times for name, times in line.items() if name in place}
        if not mine:
            continue
        rest = sum(times * system.bounds[name][0] for name, times in line.items()
                   if name not in place)  # fmt: skip
        entries += [(len(uppers), place[name], times) for name, times in mine.items()]
        uppers.append(high - rest)
        lowers.append(low - rest)
    return {name: _range(place[name], limits, entries, lowers, uppers) for name in wanted}


def _range(
    target: int,
    limits: list[tuple[float, float]],
    entries: list[tuple[int, int, float]],
    lowers: list[float],
    uppers: list[float],
) -> Known:
    size = len(limits)
    asked = np.zeros(size)
    asked[target] = 1.0
    lines: dict[str, object] = {}
    if entries:
        rows, columns, times = zip(*entries, strict=True)
        shape = (len(uppers), size)
        above = coo_array((times, (rows, columns)), shape=shape).tocsr()
        equal = np.array(lowers) == np.array(uppers)
        lines = {"A_eq": above[equal], "b_eq": np.array(uppers)[equal]}
        if not equal.all():
            lines["A_ub"] = vstack([above[~equal], -above[~equal]])
            lines["b_ub"] = np.concatenate([np.array(uppers)[~equal], -np.array(lowers)[~equal]])
    ends = []
    for way in (1.0, -1.0):
        got = linprog(way * asked, bounds=limits, method="highs", **lines)
        if got.status == 3:
            ends.append(np.inf)
            continue
        assert got.status == 0, got.message
        ends.append(float(got.x[target]))
    return Known(*ends)
