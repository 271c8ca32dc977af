"""The logarithm of the gamma function against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special

from tests.dbt_project.columns import column
from tests.dbt_project.macro_runner import macros, scalar


def _errors(z: np.ndarray) -> np.ndarray:
    expected = special.gammaln(z)
    error: np.ndarray = np.abs(column(macros()["log_gamma"]("z"), z=z) - expected)
    return error


def test_it_errs_by_less_than_three_in_ten_to_the_fourteen_up_to_thirty() -> None:
    assert _errors(np.concatenate([np.linspace(0.001, 30, 20001), np.arange(1, 31)])).max() < 3e-14


def test_elsewhere_it_errs_by_a_few_roundings_of_its_value() -> None:
    z = np.concatenate([np.geomspace(1e-300, 0.01, 2001), np.geomspace(30, 1e15, 4001)])
    assert (_errors(z) / np.abs(special.gammaln(z))).max() < 5e-15


def test_the_series_beyond_ten_keeps_thirteen_places() -> None:
    """What the leading terms leave, alone: every coefficient of the series shows in it."""
    z = np.concatenate([np.linspace(10, 14, 401), np.geomspace(14, 200, 101)])
    rest = special.gammaln(z) - ((z - 0.5) * np.log(z) - z + 0.5 * np.log(2 * np.pi))
    found = column(macros()["stirling_rest"]("z"), z=z)
    assert np.abs(found - rest)[:401].max() < 3e-14
    assert np.abs(found - (1 / (12 * z) - 1 / (360 * z**3) + 1 / (1260 * z**5)))[-1] < 1e-17


def test_below_ten_the_rest_is_that_of_ten_places_on() -> None:
    z = np.linspace(0.05, 9.99, 1001)
    rest = special.gammaln(z) - ((z - 0.5) * np.log(z) - z + 0.5 * np.log(2 * np.pi))
    assert np.abs(column(macros()["stirling_rest"]("z"), z=z) - rest).max() < 3e-14


@pytest.mark.parametrize("z", [0.0, -1.5, None])
def test_there_is_none_at_zero_and_below(z: float | None) -> None:
    assert scalar("log_gamma", "z", z=z) is None
    assert scalar("stirling_rest", "z", z=z) is None


def test_factorials() -> None:
    for n, factorial in [(1, 1), (2, 1), (3, 2), (6, 120), (11, 3628800)]:
        assert np.exp(scalar("log_gamma", str(n))) == pytest.approx(factorial, rel=3e-14)
