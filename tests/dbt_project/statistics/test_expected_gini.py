"""Evenness to be expected by luck: the exact walk, all outcomes of small classes, rounds."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.dbt_project.macro_runner import scalar


def _by_walk(pupils: int, draws: int) -> float:
    """(N - 1) / (2 K) E|T1 - T2|, the walk followed draw by draw."""
    if pupils == 1:
        return 0.0
    chances = np.zeros(2 * draws + 3)
    chances[draws + 1] = 1.0
    for _ in range(draws):
        stays = chances * (1 - 2 / pupils)
        stays[1:] += chances[:-1] / pupils
        stays[:-1] += chances[1:] / pupils
        chances = stays
    gap = np.abs(np.arange(2 * draws + 3) - draws - 1) @ chances
    return float((pupils - 1) / (2 * draws) * gap)


def _gini(turns: list[int]) -> float:
    array = np.array(turns)
    return float(np.abs(array[:, None] - array).mean() / (2 * array.mean()))


def test_22_draws_among_22_pupils_are_half_uneven_by_luck() -> None:
    assert scalar("expected_gini", "22", "22") == pytest.approx(0.50, abs=0.005)


@pytest.mark.parametrize(("pupils", "draws"), [(1, 4), (2, 3), (3, 5), (4, 4)])
def test_it_is_the_mean_over_all_ways_to_draw(pupils: int, draws: int) -> None:
    ways = itertools.product(range(pupils), repeat=draws)
    ginis = [_gini(np.bincount(way, minlength=pupils).tolist()) for way in ways]
    assert scalar("expected_gini", str(pupils), str(draws)) == pytest.approx(np.mean(ginis))


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 40), st.integers(1, 900))
@example(15, 900)
@example(5, 300)
@example(30, 63)
@example(30, 64)
def test_it_follows_the_walk_up_to_60_draws_a_pupil(pupils: int, draws: int) -> None:
    got = scalar("expected_gini", "n", "k", n=pupils, k=draws)
    if draws <= 60 * pupils:
        assert got == pytest.approx(_by_walk(pupils, draws), abs=1e-8)
    elif pupils != 2:
        assert got == pytest.approx(_by_walk(pupils, draws), rel=3e-6)


@pytest.mark.parametrize(("pupils", "draws"), [(3, 181), (5, 301), (10, 700), (22, 1400)])
def test_above_60_draws_a_pupil_it_stays_within_three_in_a_million(pupils: int, draws: int) -> None:
    got = scalar("expected_gini", str(pupils), str(draws))
    assert got == pytest.approx(_by_walk(pupils, draws), rel=3e-6)


def test_a_pair_with_many_draws_stays_within_three_in_a_thousand() -> None:
    assert scalar("expected_gini", "2", "121") == pytest.approx(_by_walk(2, 121), rel=3e-3)


@pytest.mark.parametrize("name", ["expected_gini", "expected_gini_in_rounds"])
def test_no_pupil_or_no_draw_has_no_evenness(name: str) -> None:
    assert scalar(name, "0", "5") is None
    assert scalar(name, "5", "0") is None
    assert scalar(name, "cast(null as bigint)", "5") is None
    assert scalar(name, "1", "5") == pytest.approx(0.0, abs=1e-12)


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 40), st.integers(1, 200))
@example(22, 44)
@example(22, 11)
def test_in_rounds_some_are_one_turn_ahead_and_that_is_all(pupils: int, draws: int) -> None:
    full, ahead = divmod(draws, pupils)
    expected = _gini([full + 1] * ahead + [full] * (pupils - ahead))
    got = scalar("expected_gini_in_rounds", str(pupils), str(draws))
    assert got == pytest.approx(expected, abs=1e-12)
