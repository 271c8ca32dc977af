"""A spread that borrows from others, and the t test with it: scipy, and edge cases by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import macros, scalar, table

COLUMNS = {
    "own": "double", "own_df": "double", "prior": "double", "prior_df": "double",
    "mean": "double", "count": "double",
}  # fmt: skip
Case = tuple[float, int, float, float, float]


def _answers(cases: list[Case], line: float) -> list[tuple[float, float]]:
    """Moderated variance and one-sided p of each case; the number of values is own_df + 1."""
    rows = [(own, df, prior, weight, mean, df + 1) for own, df, prior, weight, mean in cases]
    variance = macros()["moderated_variance"]("own", "own_df", "prior", "prior_df")
    p = macros()["t_below_p"]("mean", "error", str(line), "own_df + prior_df")
    query = (
        f"select v, {p} from (select *, sqrt(v / count) as error"
        f" from (select *, {variance} as v from given))"
    )
    found: list[tuple[float, float]] = table(query, given=rows_given(COLUMNS, rows))
    return found


@settings(max_examples=20, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.floats(0.0, 0.09),
            st.integers(1, 30),
            st.floats(0.0001, 0.09),
            st.sampled_from([0.5, 1.0, 6.0, 40.0]),
            st.floats(0.0, 1.0),
        ),
        min_size=1,
        max_size=40,
    )
)
def test_both_agree_with_the_formula_and_with_scipy(cases: list[Case]) -> None:
    for (variance, p), (own, df, prior, weight, mean) in zip(
        _answers(cases, 0.8), cases, strict=True
    ):
        expected = np.average([own, prior], weights=[df, weight])
        error = math.sqrt(expected / (df + 1))
        assert variance == pytest.approx(expected, rel=1e-12)
        assert p == pytest.approx(stats.t.cdf((mean - 0.8) / error, df + weight), abs=1e-10)


def test_an_own_spread_with_much_behind_it_outweighs_the_prior_and_the_reverse() -> None:
    many, few = _answers([(0.04, 600, 0.01, 6.0, 0.7), (0.04, 1, 0.01, 600.0, 0.7)], 0.8)
    assert many[0] == pytest.approx(0.04, rel=0.01)
    assert few[0] == pytest.approx(0.01, rel=0.01)


@pytest.mark.parametrize(
    ("own", "own_df", "prior", "expected"),
    [
        ("null", "0", "0.02", 0.02),
        ("0.5", "0", "0.02", 0.02),
        ("null", "-1", "0.02", 0.02),
        ("0.0", "2", "0.02", 0.015),
        ("0.05", "1", "0.02", (0.05 + 6 * 0.02) / 7),
        ("0.05", "2", "null", None),
        ("null", "2", "0.02", None),
    ],
)
def test_the_prior_stands_alone_where_there_is_nothing_own(
    own: str, own_df: str, prior: str, expected: float | None
) -> None:
    found = scalar("moderated_variance", own, own_df, prior, "6.0")
    assert found == (None if expected is None else pytest.approx(expected, rel=1e-12))


@pytest.mark.parametrize(
    ("mean", "error", "expected"),
    [
        ("0.7", "0.0", 0.0),
        ("0.9", "0.0", 1.0),
        ("0.8", "0.0", 0.5),
        ("0.8", "0.1", 0.5),
        ("null", "0.1", None),
        ("0.7", "null", None),
        ("null", "0.0", None),
    ],
)
def test_without_error_the_line_decides_and_nothing_known_gives_nothing(
    mean: str, error: str, expected: float | None
) -> None:
    assert scalar("t_below_p", mean, error, "0.8", "8.0") == expected
