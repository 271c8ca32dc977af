"""Cards that go back at once: an exact p by enumeration, evenness under luck, a favour found."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.statistics.audit_worlds import Room, chances_of, p_values, returned

# Two turns among four, then two among three: child 2 is away. 0 had three, 1 had one.
HAND = [
    (1, 1, 0, 2), (1, 1, 1, 0), (1, 1, 2, 0), (1, 1, 3, 0),
    (2, 1, 0, 1), (2, 1, 1, 1), (2, 1, 3, 0),
]  # fmt: skip
EXPECTED = np.array([7 / 6, 7 / 6, 1 / 2, 7 / 6])


def _exact_p(observed: list[int]) -> float:
    """Over all 4 x 4 x 3 x 3 ways in which the turns may fall."""
    ways = itertools.product(range(4), range(4), (0, 1, 3), (0, 1, 3))
    found = [(np.bincount(way, minlength=4) - EXPECTED) ** 2 / EXPECTED for way in ways]
    own = ((np.array(observed) - EXPECTED) ** 2 / EXPECTED).sum()
    return float(np.mean([one.sum() >= own - 1e-9 for one in found]))


def test_the_same_seed_gives_the_same_simulations_and_another_seed_others() -> None:
    runs = "select 0 as audit_id, simulation from range(1, 51) as numbers(simulation)"
    found = [
        table(
            f"select * from ({macros()['simulated_returns']('chances', 'runs', seed)}) as simulated"
            " order by simulation",
            chances=chances_of([HAND]),
            runs=runs,
        )
        for seed in ("1", "1", "2")
    ]
    assert found[0] == found[1] != found[2]
    assert [row[1] for row in found[0]] == list(range(1, 51))


def test_p_of_four_children_is_that_of_all_ways_counted() -> None:
    exact = _exact_p([3, 1, 0, 0])
    whole, _ = p_values("simulated_returns", [HAND], 4000, 7)
    assert whole[0] == pytest.approx(exact, abs=4 * np.sqrt(exact * (1 - exact) / 4000))


def test_luck_gives_an_even_p_whoever_is_away() -> None:
    rng = np.random.default_rng(11)
    classes = [returned(rng, Room()) for _ in range(300)]
    whole, split = p_values("simulated_returns", classes, 59, 11)
    assert stats.kstest(split, "uniform").pvalue > 0.001
    for level in (0.05, 0.1, 0.2, 0.5):
        assert np.mean(whole <= level) <= level + 3 * np.sqrt(level * (1 - level) / 300)


def test_a_favourite_is_found() -> None:
    """One of 22 has four times the chance of the others over 45 days of 12 turns."""
    room, rng = Room(22, 45, 12, 0.05), np.random.default_rng(3)
    favour = [4.0] + [1.0] * 21
    whole, _ = p_values("simulated_returns", [returned(rng, room, favour)], 199, 3)
    assert whole[0] == 1 / 200
