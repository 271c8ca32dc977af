"""One corner of a rectangle: how far it can move, and what it costs."""

from __future__ import annotations

from typing import Any

import pytest

from tests.dbt_project.macro_runner import macros, table


def room(
    sign: int, way: int, count: float, low: float, high: float | None, least: int | None = 10
) -> tuple[Any, ...]:
    """Whether a corner is wide and open for a cell that must rise by six and fall by three."""
    text = macros()["corner_room"]("beside", str(sign), way, least)
    top = "null" if high is None else high
    rows = table(
        f"select {text} from beside cross join protected",
        beside=f"select {count}::double cell_count, {low}::double cell_low,"
        f" {top}::double cell_high",
        protected="select 6.0::double rise, 3.0::double fall",
    )
    return rows[0]


@pytest.mark.parametrize(
    ("sign", "way", "count", "low", "high", "expected"),
    [
        # Moves with the cell: down by three, up by six.
        (1, 1, 3, 0, 9, (True, True)),
        (1, 1, 2.5, 0, 9, (False, False)),
        (1, 1, 3.5, 0, 9, (False, True)),
        (-1, -1, 13, 10, None, (True, True)),
        (-1, -1, 12.5, 10, None, (False, True)),
        # Moves against it: down by six, up by three.
        (1, -1, 6, 0, 9, (True, True)),
        (1, -1, 5.5, 0, 9, (False, False)),
        (1, -1, 6.5, 0, 9, (False, True)),
        (-1, 1, 16, 10, None, (True, True)),
        (-1, 1, 15.5, 10, None, (False, True)),
    ],
)
def test_a_corner_is_wide_within_what_is_known_and_open_above_nothing(
    sign: int, way: int, count: float, low: float, high: float | None, expected: tuple[bool, bool]
) -> None:
    assert room(sign, way, count, low, high) == expected


def test_without_a_size_a_corner_need_hold_one() -> None:
    assert room(1, 1, 1, 0, None, least=None) == (False, True)
    assert room(1, -1, 0.5, 0, None, least=None) == (False, False)


@pytest.mark.parametrize(("kind", "expected"), [("margins", 1), ("cells", 2), ("counts", 47)])
def test_only_what_was_shown_costs(kind: str, expected: float) -> None:
    corner = "select {}::double cell_count, {}::boolean is_gone, {}::boolean is_margin"
    rows = table(
        f"select {macros()['corner_cost'](kind)} from beside cross join below cross join across",
        beside=corner.format(7, "false", "false"),
        below=corner.format(40, "false", "true"),
        across=corner.format(5, "true", "true"),
    )
    assert rows == [(expected,)]
