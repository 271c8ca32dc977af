"""Six intraclass correlations with limits: Shrout & Fleiss, pingouin, and what has no answer."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pandas as pd
import pingouin
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.given_rows import given
from tests.dbt_project.macro_runner import macros, table

COLUMNS = {"g": "int", "s": "int", "r": "int", "y": "double"}
NAMES = (
    "subject_count", "rater_count", "subject_ms", "within_ms", "rater_ms", "error_ms", "icc",
    "icc_low", "icc_high", "f_value", "df1", "df2", "p_value",
)  # fmt: skip
THEIRS = {
    "1,1": "ICC(1,1)", "2,1": "ICC(A,1)", "3,1": "ICC(C,1)",
    "1,k": "ICC(1,k)", "2,k": "ICC(A,k)", "3,k": "ICC(C,k)",
}  # fmt: skip
Scores = list[list[Any]]


def _rows(groups: list[Scores]) -> list[tuple[Any, ...]]:
    return [
        (g, s, r, y)
        for g, scores in enumerate(groups)
        for s, row in enumerate(scores)
        for r, y in enumerate(row)
    ]


def _icc(rows: list[tuple[Any, ...]], *level: str) -> dict[tuple[int, str], dict[str, Any]]:
    query = macros()["icc"]("seen", ["g"], "s", "r", "y", *level)
    found = table(query, seen=given(COLUMNS, rows))
    return {(row[0], row[1]): dict(zip(NAMES, row[2:], strict=True)) for row in found}


# Shrout & Fleiss (1979): data read, coefficients from memory; limits from software output, read.
def test_the_ratings_of_shrout_and_fleiss_have_the_published_six_and_their_limits() -> None:
    table_2, limits = example("e-shrout-fleiss-1979"), example("e-shrout-fleiss-1979-ci")
    got = _icc(_rows([table_2.inputs["ratings"]]))
    first = got[0, "1,1"]
    assert (first["subject_count"], first["rater_count"]) == (6, 4)
    assert first["subject_ms"] == table_2.expects("BMS")
    assert first["within_ms"] == table_2.expects("WMS")
    assert first["rater_ms"] == table_2.expects("JMS")
    assert first["error_ms"] == table_2.expects("EMS")
    assert first["f_value"] == limits.expects("F1")
    assert first["p_value"] == limits.expects("p1")
    assert (first["df1"], first["df2"]) == (5, 18)
    for form in THEIRS:
        name = "ICC" + form.replace(",", "")
        one = got[0, form]
        assert one["icc"] == table_2.expects(name)
        assert one["icc"] == pytest.approx(limits.published["est"][name], abs=6e-7)
        low, high = limits.published["ci"][name]
        assert one["icc_low"] == pytest.approx(low, abs=6e-7)
        assert one["icc_high"] == pytest.approx(high, abs=6e-7)


def test_a_subject_that_one_rater_skipped_or_scored_twice_is_left_out() -> None:
    whole = _rows([[[1.0, 2.0], [3.0, 3.5], [5.0, 5.5]]])
    odd = [(0, 8, 0, 9.0), (0, 9, 0, 7.0), (0, 9, 1, None), (0, 7, 0, 1.0), (0, 7, 0, 2.0)]
    got, expected = _icc([*whole, *odd])[0, "2,1"], _icc(whole)[0, "2,1"]
    assert got == expected
    assert got["subject_count"] == 3


def test_too_few_or_all_alike_have_none() -> None:
    assert _icc(_rows([[[1.0, 2.0]], [[1.0], [2.0]]])) == {}
    assert _icc([]) == {}
    alike = _icc(_rows([[[0.1, 0.1], [0.1, 0.1], [0.1, 0.1]]]))
    assert {one["icc"] for one in alike.values()} == {None}
    assert {one["f_value"] for one in alike.values()} == {None}


def test_raters_who_agree_fully_have_one_and_those_a_step_apart_less_in_absolute_terms() -> None:
    agree = _icc(_rows([[[0.1, 0.1], [0.7, 0.7], [0.3, 0.3]]]))
    assert [agree[0, form]["icc"] for form in THEIRS] == [1.0] * 6
    assert {one["p_value"] for one in agree.values()} == {None}
    step = _icc(_rows([[[1.0, 2.0], [2.0, 3.0], [3.0, 4.0]]]))
    assert step[0, "3,1"]["icc"] == 1.0
    assert step[0, "2,1"]["icc"] == pytest.approx(1 / (1 + 0.5))


def test_the_level_moves_the_limits_and_nothing_else() -> None:
    rows = _rows([[[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8]]])
    wide, narrow = _icc(rows, "0.99")[0, "3,1"], _icc(rows, "0.5")[0, "3,1"]
    assert wide["icc_low"] < narrow["icc_low"] < narrow["icc"] < narrow["icc_high"]
    assert wide["icc"] == narrow["icc"]


@settings(max_examples=3, deadline=None)
@over(
    st.lists(
        st.tuples(st.integers(5, 9), st.integers(2, 4), st.integers(0, 2**16), st.booleans()),
        min_size=1, max_size=4,
    )
)  # fmt: skip
def test_it_agrees_with_pingouin(shapes: list[tuple[int, int, int, bool]]) -> None:
    groups = [_made(*shape) for shape in shapes]
    got = _icc(_rows(groups))
    for g, scores in enumerate(groups):
        long = pd.DataFrame(_rows([scores]), columns=list(COLUMNS))
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            theirs = pingouin.intraclass_corr(long, "s", "r", "y").set_index("Type")
        for form, name in THEIRS.items():
            one, other = got[g, form], theirs.loc[name]
            assert one["icc"] == pytest.approx(other["ICC"], abs=1e-8)
            assert one["f_value"] == pytest.approx(other["F"], rel=1e-6)
            assert one["p_value"] == pytest.approx(other["pval"], abs=1e-8)
            low, high = other["CI95"] if "CI95" in other else other["CI95%"]
            assert one["icc_low"] == pytest.approx(low, abs=0.0051)
            assert one["icc_high"] == pytest.approx(high, abs=0.0051)


def _made(subjects: int, raters: int, seed: int, has_ties: bool) -> Scores:
    rng = np.random.default_rng(seed)
    scores = rng.normal(size=(subjects, 1)) + rng.normal(size=(1, raters))
    scores = scores + rng.normal(size=(subjects, raters))
    scores = np.round(2 * scores) / 2 if has_ties else scores
    scores[0, 0] += 0.25  # never all alike
    return [list(map(float, row)) for row in scores]


def test_the_mean_squares_are_those_of_analysis_of_variance() -> None:
    scores = np.array([[1.0, 2.0, 4.0], [3.0, 3.0, 8.0]])
    mean_squares = macros()["icc_mean_squares"]("seen", ["g"], "s", "r", "y")
    query = f"select * from ({mean_squares})"
    got = table(query, seen=given(COLUMNS, _rows([scores.tolist()])))[0]
    subjects, raters, mean = scores.mean(1), scores.mean(0), scores.mean()
    left = scores - subjects[:, None] - raters[None, :] + mean
    expected = (
        3 * ((subjects - mean) ** 2).sum(), ((scores - subjects[:, None]) ** 2).sum() / 4,
        2 * ((raters - mean) ** 2).sum() / 2, (left**2).sum() / 2,
    )  # fmt: skip
    assert got[3:] == pytest.approx(expected)
