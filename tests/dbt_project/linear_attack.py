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
from scipy.sparse import coo_array

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
    part_of = _parts(system)
    names: dict[str, list[str]] = defaultdict(list)
    for name, part in part_of.items():
        names[part].append(name)
    lines: dict[str, list[tuple[Line, float, float]]] = defaultdict(list)
    for line in system.lines:
        for part in {part_of[name] for name in line[0] if not _is_shown(system, name)}:
            lines[part].append(line)
    asked: dict[str, list[str]] = defaultdict(list)
    for name in wanted:
        asked[part_of[name]].append(name)
    found: dict[str, Known] = {}
    for part, targets in asked.items():
        programme = _programme(system, names[part], lines[part])
        found.update({name: _range(programme, names[part].index(name)) for name in targets})
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


@dataclass(frozen=True)
class _Programme:
    """What linprog asks for, without what is to be made least."""

    limits: list[tuple[float, float]]
    lines: dict[str, object]


def _programme(
    system: System, names: list[str], lines: Iterable[tuple[Line, float, float]]
) -> _Programme:
    place = {name: number for number, name in enumerate(names)}
    equal, above = _Lines(len(names)), _Lines(len(names))
    for line, low, high in lines:
        mine = {place[name]: times for name, times in line.items() if name in place}
        rest = sum(
            times * system.bounds[name][0] for name, times in line.items() if name not in place
        )
        if low == high:
            equal.add(mine, high - rest)
            continue
        if high < np.inf:
            above.add(mine, high - rest)
        if low > -np.inf:
            above.add({number: -times for number, times in mine.items()}, rest - low)
    limits = [system.bounds.get(name, (0.0, np.inf)) for name in names]
    return _Programme(limits, equal.named("A_eq", "b_eq") | above.named("A_ub", "b_ub"))


class _Lines:
    """Lines of a programme, gathered one after another."""

    def __init__(self, size: int) -> None:
        self.size = size
        self.entries: list[tuple[float, int, int]] = []
        self.ends: list[float] = []

    def add(self, line: Mapping[int, float], end: float) -> None:
        self.entries += [(times, len(self.ends), place) for place, times in line.items()]
        self.ends.append(end)

    def named(self, left: str, right: str) -> dict[str, object]:
        if not self.ends:
            return {}
        times, rows, columns = zip(*self.entries, strict=True)
        shape = (len(self.ends), self.size)
        return {left: coo_array((times, (rows, columns)), shape=shape), right: np.array(self.ends)}


def _range(programme: _Programme, target: int) -> Known:
    ends = []
    for way in (1.0, -1.0):
        asked = np.zeros(len(programme.limits))
        asked[target] = way
        got = linprog(asked, bounds=programme.limits, method="highs", **programme.lines)
        assert got.status in (0, 3), got.message
        ends.append(np.inf if got.status == 3 else float(got.x[target]))
    return Known(*ends)
