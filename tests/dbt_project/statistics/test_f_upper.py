"""Upper tails of F against scipy."""

from __future__ import annotations

import numpy as np
from scipy import special, stats

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

UPPER = macros()["f_upper"]("x", "m", "n")
CHANCE = np.random.default_rng(5)
M, N = np.exp(CHANCE.uniform(np.log(0.5), np.log(2000), (2, 2000)))
X = stats.f.isf(special.ndtr(CHANCE.normal(0, 2, 2000)).clip(1e-6, 1 - 1e-6), M, N)


def test_it_errs_by_no_more_than_its_header_says() -> None:
    assert furthest(column(UPPER, x=X, m=M, n=N), stats.f.sf(X, M, N)) < 5e-13


def test_far_tails_keep_their_digits() -> None:
    m, n = np.tile([1, 2, 4, 15, 200], 4), np.repeat([3, 18, 60, 200], 5)
    x = np.full(20, 9.0)
    assert worst(column(UPPER, x=x, m=m, n=n), stats.f.sf(x, m, n)) < 2e-12


def test_ends_and_the_unknown() -> None:
    assert scalar("f_upper", "0", "m", "n", m=3, n=5) == 1.0
    assert scalar("f_upper", "-1", "m", "n", m=3, n=5) == 1.0
    assert scalar("f_upper", "x", "3", "5", x=None) is None
    for given in ({"m": 0, "n": 5}, {"m": 3, "n": 0}, {"m": None, "n": 5}):
        assert scalar("f_upper", "2", "m", "n", **given) is None


def test_the_square_of_t_is_an_f_with_one_degree() -> None:
    assert round(scalar("f_upper", "2.2281388 * 2.2281388", "1", "10"), 6) == 0.05
