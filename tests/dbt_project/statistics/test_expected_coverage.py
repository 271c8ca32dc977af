"""Coverage to be expected by luck: the published check values, all outcomes of small classes."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.dbt_project.macro_runner import scalar


def test_22_pupils_reach_64_percent_in_22_draws_and_87_in_44_by_luck() -> None:
    assert scalar("expected_coverage", "22", "22") == pytest.approx(0.64, abs=0.005)
    assert scalar("expected_coverage", "22", "44") == pytest.approx(0.871, abs=5e-4)


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 4), st.integers(0, 5))
def test_it_is_the_mean_over_all_ways_to_draw(pupils: int, draws: int) -> None:
    ways = list(itertools.product(range(pupils), repeat=draws))
    expected = sum(len(set(way)) for way in ways) / len(ways) / pupils
    assert scalar("expected_coverage", "n", "k", n=pupils, k=draws) == pytest.approx(expected)


@pytest.mark.parametrize("name", ["expected_coverage", "expected_coverage_in_rounds"])
def test_without_pupils_there_is_none_and_without_draws_it_is_zero(name: str) -> None:
    assert scalar(name, "0", "5") is None
    assert scalar(name, "5", "-1") is None
    assert scalar(name, "cast(null as bigint)", "5") is None
    assert scalar(name, "1", "0") == 0.0
    assert scalar(name, "1", "1") == 1.0


@pytest.mark.parametrize(("draws", "expected"), [(11, 0.5), (21, 21 / 22), (22, 1.0), (50, 1.0)])
def test_rounds_reach_one_more_with_every_draw(draws: int, expected: float) -> None:
    assert scalar("expected_coverage_in_rounds", "22", str(draws)) == pytest.approx(expected)
