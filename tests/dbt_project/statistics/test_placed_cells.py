"""What is known of each cell before any goes along: bounds, room to move, place."""

from __future__ import annotations

from typing import Any

import pytest

from tests.dbt_project.macro_runner import macros, table

ROWS = (
    "(1, 'a', 'x', 3, 'small_cell', false), (1, 'a', 'y', 10, null, null),"
    " (1, 'a', '*', 13, null, true), (1, '*', 'x', 30, 'few_classes', null)"
)
NAMES = ("cell_count", "is_gone", "is_margin", "row_sign", "column_sign", "cell_low", "cell_high",
         "rise", "fall")  # fmt: skip


def placed(least: int | None) -> dict[tuple[str, str], tuple[Any, ...]]:
    query = macros()["placed_cells"]("given", ["k"], "i", "j", "n", "why", "away", least)
    rows = table(
        f"select cell_row, cell_column, {', '.join(NAMES)} from ({query})",
        given=f"select * from (values {ROWS}) v(k, i, j, n, why, away)",
    )
    return {(row, column): tuple(rest) for row, column, *rest in rows}


@pytest.mark.parametrize(
    ("cell", "known"),
    [
        (("a", "x"), (3, True, False, 1, 1, 0, 9, 6, 3)),
        (("a", "y"), (10, False, False, 1, 1, 10, None, 9, 9)),
        (("a", "*"), (13, True, True, 1, -1, 10, None, 9, 9)),
        (("*", "x"), (30, True, True, -1, 1, 10, None, 9, 9)),
    ],
)
def test_people_are_known_to_be_small_or_not(cell: tuple[str, str], known: tuple[Any, ...]) -> None:
    assert placed(10)[cell] == known


def test_other_counts_are_known_not_to_be_negative_and_move_by_a_fifth() -> None:
    assert placed(None)["a", "x"] == (3, True, False, 1, 1, 0, None, 0.6, 0.6)
    assert placed(None)["*", "x"] == (30, True, True, -1, 1, 0, None, 6, 6)
