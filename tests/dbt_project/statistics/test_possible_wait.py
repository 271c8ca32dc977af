"""Waits that rounds make possible, and waits that luck alone makes likely."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from tests.dbt_project.macro_runner import scalar


@pytest.mark.parametrize("pupils", [1, 2, 3, 4])
def test_the_possible_wait_is_the_longest_over_all_pairs_of_rounds(pupils: int) -> None:
    orders = list(itertools.permutations(range(pupils)))
    longest = max(
        pupils + second.index(child) - first.index(child)
        for first, second in itertools.product(orders, orders)
        for child in range(pupils)
    )
    assert scalar("possible_wait", str(pupils)) == longest


def test_22_pupils_at_three_draws_a_day_may_wait_15_draw_days() -> None:
    assert scalar("draw_days", scalar("possible_wait", "22"), "3") == 15


def test_days_are_rounded_up_and_none_without_draws() -> None:
    assert scalar("draw_days", "6", "3") == 2
    assert scalar("draw_days", "1 + 6", "3") == 3
    assert scalar("draw_days", "6", "0") is None


def test_luck_lets_somebody_wait_longer_no_more_often_than_said() -> None:
    """4,000 terms of 400 draws among 8: somebody passes the wait in at most 5 % of them."""
    limit = scalar("wait_by_luck", "8", "400", "0.05")
    assert limit == np.ceil(np.log(0.05 / 408) / np.log(7 / 8))
    rng = np.random.default_rng(8)
    longer = 0
    for draws in rng.integers(0, 8, size=(4000, 400)):
        waits = [
            np.diff(np.flatnonzero(draws == child), prepend=-1, append=400) for child in range(8)
        ]
        longer += max(wait.max() for wait in waits) > limit
    assert 0.02 < longer / 4000 < 0.05


def test_the_wait_by_luck_of_few_pupils() -> None:
    assert scalar("wait_by_luck", "1", "60", "0.05") == 1.0
    assert scalar("wait_by_luck", "2", "0", "0.5") == 2.0
    assert scalar("wait_by_luck", "0", "60", "0.05") is None
    assert scalar("possible_wait", "0") is None
    assert scalar("possible_wait", "cast(null as bigint)") is None
