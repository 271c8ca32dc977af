"""Which side of a line, in whatever order it was added; and who comes first when two tie."""

from __future__ import annotations

import math

import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.dbt_project.given_rows import given
from tests.dbt_project.macro_runner import macros, scalar, table

# Five visits whose mean is .8, or a hair beside it when added in another order.
PARTS = (0.7, 0.9, 0.8, 0.6, 1.0)


@settings(deadline=None, max_examples=30)
@over(st.permutations(PARTS))
def test_a_mean_on_the_line_reaches_it_in_whatever_order_it_was_added(parts: list[float]) -> None:
    total = 0.0
    for part in parts:
        total += part
    assert scalar("reaches", "mean", "0.8", mean=total / 5) is True
    assert scalar("falls_short", "mean", "0.8", mean=total / 5) is False


@pytest.mark.parametrize("nudge", [-1e-3, -1e-8, 1e-8, 1e-3])
def test_what_is_apart_by_more_than_nine_places_is_told_apart(nudge: float) -> None:
    assert scalar("reaches", "mean", "line", mean=0.8 + nudge, line=0.8) is (nudge > 0)
    assert scalar("falls_short", "mean", "line", mean=0.8 + nudge, line=0.8) is (nudge < 0)


@pytest.mark.parametrize("mean", [0.8 - 1e-11, math.nextafter(0.8, 0), math.nextafter(0.8, 1)])
def test_what_is_apart_by_a_last_digit_is_on_the_line(mean: float) -> None:
    assert scalar("reaches", "mean", "line", mean=mean, line=0.8) is True
    assert scalar("falls_short", "mean", "line", mean=mean, line=0.8) is False


def test_nothing_known_is_on_no_side() -> None:
    assert scalar("reaches", "mean", "0.8", mean=None) is None
    assert scalar("falls_short", "mean", "0.8", mean=None) is None


@settings(deadline=None, max_examples=30)
@over(st.permutations([("quality", 0.6), ("adherence", 0.6), ("exposure", 0.7)]))
def test_of_two_that_tie_the_next_column_says_which_comes_first(
    rows: list[tuple[str, float]],
) -> None:
    order = macros()["in_turn"](["value", "name"])
    given_rows = given({"name": "varchar", "value": "double"}, rows)
    query = f"select min_by(name, {order}), max_by(name, {order}) from sides"
    assert table(query, sides=given_rows) == [("adherence", "exposure")]
