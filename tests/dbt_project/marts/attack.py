"""What a reader with a pencil can work out from a table with a margin: differencing.

Cells of a row add up to the margin; a withheld cell is None. The attacker knows every shown cell,
the margin, and that a count is not negative.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Guess:
    """All that is known of one withheld cell: it lies from `low` to `high`, both possible."""

    low: float
    high: float

    @property
    def is_recovered(self) -> bool:
        return self.low == self.high


def difference(cells: Mapping[str, float | None], total: float) -> dict[str, Guess]:
    """What the margin gives away of each withheld cell of one row."""
    hidden = [name for name, count in cells.items() if count is None]
    rest = total - sum(count for count in cells.values() if count is not None)
    low = rest if len(hidden) == 1 else 0.0
    return {name: Guess(low, rest) for name in hidden}


def recovered(rows: Sequence[tuple[Mapping[str, float | None], float]]) -> list[str]:
    """Names of withheld cells that some row gives away exactly."""
    return sorted(
        name
        for cells, total in rows
        for name, guess in difference(cells, total).items()
        if guess.is_recovered
    )
