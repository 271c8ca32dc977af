"""The normal distribution against scipy, to the last digits of both tails."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

CDF = macros()["normal_cdf"]


def test_it_errs_by_less_than_four_in_ten_to_the_sixteen_everywhere() -> None:
    z = np.concatenate([np.linspace(-40, 40, 8001), np.linspace(-1, 1, 4001), [0.0, 1e-300]])
    assert furthest(column(CDF("z"), z=z), stats.norm.cdf(z)) < 4e-16


def test_the_lower_tail_keeps_its_digits() -> None:
    z = np.linspace(-37.5, 0.7, 20001)
    assert worst(column(CDF("z"), z=z), stats.norm.cdf(z)) < 3e-15


def test_both_sides_add_up_to_one_half_at_zero_and_to_one_elsewhere() -> None:
    z = np.linspace(0, 8, 2001)
    assert furthest(column(f"{CDF('z')} + {CDF('-z')}", z=z), np.ones_like(z)) < 4e-16
    assert scalar("normal_cdf", "0") == 0.5


def test_the_ends_and_the_unknown() -> None:
    assert scalar("normal_cdf", "z", z=1e6) == 1.0
    assert scalar("normal_cdf", "z", z=-1e6) == 0.0
    assert scalar("normal_cdf", "z", z=None) is None


def test_a_sum_may_be_given() -> None:
    assert scalar("normal_cdf", "z + 1.0", z=0.96) == pytest.approx(stats.norm.cdf(1.96), abs=4e-16)
