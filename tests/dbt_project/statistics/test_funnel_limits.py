"""Limits of funnels: the formula on whole counts, its ends, and the widened normal one."""

from __future__ import annotations

import numpy as np
from scipy import stats

from tests.check_values import example
from tests.dbt_project.columns import column, furthest
from tests.dbt_project.macro_runner import macros, scalar


def _formula(target: float, n: int, p: float) -> float:
    """Spiegelhalter's rule, looking at each whole count in turn."""
    rank = next(k for k in range(n + 1) if stats.binom.cdf(k, n, target) > p)
    over = stats.binom.cdf(rank, n, target) - p
    return float((rank - over / stats.binom.pmf(rank, n, target)) / n)


def test_the_interpolated_binomial_limits() -> None:
    # Spiegelhalter (2005), appendix A.1: from memory.
    formula = example("b-funnel-binomial-interpolated")
    target, sizes, shares = (formula.inputs[name] for name in ("target", "n", "p"))
    n, p = (one.ravel() for one in np.meshgrid(sizes, shares))
    found = column(macros()["funnel_binomial"](str(target), "n", "p"), n=n, p=p)
    assert furthest(found, [_formula(target, *pair) for pair in zip(n, p, strict=True)]) < 1e-12
    assert len(found.reshape(len(shares), -1).T) == formula.expects("n_rows")


def test_other_targets_and_sizes_stay_between_none_and_all() -> None:
    target = np.tile([0.02, 0.5, 0.9, 0.99], 12)
    n, p = np.repeat([1, 2, 7, 33], 12), np.tile(np.repeat([0.025, 0.5, 0.975], 4), 4)
    found = column(macros()["funnel_binomial"]("t", "n", "p"), t=target, n=n, p=p)
    known = [_formula(*one) for one in zip(target, n, p, strict=True)]
    assert furthest(found, np.clip(known, 0, 1)) < 1e-12
    assert found.min() == 0.0


def test_nothing_looked_at_has_no_limit() -> None:
    assert scalar("funnel_binomial", "0.3", "n", "0.025", n=0) is None
    assert scalar("funnel_binomial", "t", "9", "0.025", t=None) is None


def test_the_normal_limit_is_widened_by_phi_or_by_the_units_own_spread() -> None:
    error = np.array([0.02, 0.05, 0.3])
    plain = column(macros()["funnel_normal"]("0.8", "e", "0.975"), e=error)
    assert furthest(plain, 0.8 + 1.959963984540054 * error) < 1e-14
    wide = column(macros()["funnel_normal"]("0.8", "e", "0.001", "2.25"), e=error)
    assert furthest(wide, 0.8 - 3.090232306167813 * 1.5 * error) < 1e-14
    spread = column(macros()["funnel_normal"]("0.8", "e", "0.025", "1.0", "0.0016"), e=error)
    assert furthest(spread, 0.8 - 1.959963984540054 * np.hypot(error, 0.04)) < 1e-14
