"""The incomplete beta function against scipy, for shapes from 0.001 to a million."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special

from tests.dbt_project.columns import column, furthest, worst
from tests.dbt_project.macro_runner import macros, scalar

CDF = macros()["beta_cdf"]("x", "a", "b")


def _grid(least: float, most: float, count: int) -> dict[str, np.ndarray]:
    """Pairs of shapes, even and uneven, each at places from the far lower to the far upper tail."""
    chance = np.random.default_rng(8)
    a = np.exp(chance.uniform(np.log(least), np.log(most), count))
    b = np.exp(chance.uniform(np.log(least), np.log(most), count))
    b[: count // 4] = a[: count // 4]
    p = special.ndtr(chance.normal(0, 3, count)).clip(1e-9, 1 - 1e-9)
    return {"x": special.betaincinv(a, b, p), "a": a, "b": b}


@pytest.mark.parametrize(
    ("least", "most", "error"),
    [(0.001, 1, 4e-14), (0.05, 30, 4e-14), (0.5, 1000, 4e-13), (1, 1e4, 3e-12), (10, 1e6, 3e-10)],
)
def test_it_errs_by_no_more_than_its_header_says(least: float, most: float, error: float) -> None:
    given = _grid(least, most, 3000)
    assert (
        furthest(column(CDF, **given), special.betainc(given["a"], given["b"], given["x"])) < error
    )


def test_lower_tails_keep_their_digits() -> None:
    chance = np.random.default_rng(9)
    a, b = chance.uniform(0.5, 60, (2, 2000))
    x = a / (a + b) * chance.uniform(0.001, 0.9, 2000)
    expected = special.betainc(a, b, x)
    found = column(CDF, x=x[expected > 1e-250], a=a[expected > 1e-250], b=b[expected > 1e-250])
    assert worst(found, expected[expected > 1e-250]) < 3e-13


def test_closed_forms() -> None:
    x = np.linspace(0.01, 0.99, 99)
    ones = np.ones_like(x)
    for a, b, expected in [
        (1, 1, x), (3, 1, x**3), (1, 4, 1 - (1 - x) ** 4), (2, 2, x * x * (3 - 2 * x)),
        (0.5, 0.5, 2 / np.pi * np.arcsin(np.sqrt(x))),
    ]:  # fmt: skip
        assert furthest(column(CDF, x=x, a=a * ones, b=b * ones), expected) < 2e-14


def test_beyond_the_ends_and_without_shapes() -> None:
    x, a, b = [-0.1, 0, 1, 1.1, 0.5, 0.5, 0.5], [2, 2, 2, 2, 0, 2, -1], [3, 3, 3, 3, 3, 0, 3]
    found = column(CDF, x=x, a=a, b=b)
    assert found[:4].tolist() == [0.0, 0.0, 1.0, 1.0]
    assert np.isnan(found[4:]).all()
    for missing in ("x", "a", "b"):
        assert (
            scalar("beta_cdf", "x", "a", "b", **{"x": 0.5, "a": 2, "b": 3, missing: None}) is None
        )


def test_the_share_above_may_be_given_where_it_is_known_more_exactly() -> None:
    given = {"x": 1.0, "y": 1e-20, "a": 2.0, "b": 0.5}
    expected = special.betainc(0.5, 2.0, 1e-20)
    assert 1 - scalar("beta_share", "x", "y", "a", "b", **given) == pytest.approx(
        expected, rel=1e-6
    )
    turned = scalar("beta_share", "y", "x", "b", "a", **given)
    assert turned == pytest.approx(expected, rel=1e-13)


def test_the_steps_grow_with_the_root_of_the_shapes_up_to_ten_thousand() -> None:
    steps = column(macros()["beta_steps"]("a", "b"), a=[0.5, 40, 1e4, 1e9], b=[3.5, 60, 0, 1])
    assert steps.tolist() == [26, 50, 320, 10_000]
