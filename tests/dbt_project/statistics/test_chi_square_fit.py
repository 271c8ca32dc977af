"""Goodness of fit: printed examples, scipy, empty cells, groups apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from scipy import stats

from tests.check_values import example
from tests.dbt_project.given_rows import answers
from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import macros

NAMES = ("cell_count", "statistic", "likelihood_ratio", "df", "p", "likelihood_ratio_p")


def _fits(*tables: tuple[Sequence[Any], Sequence[Any]]) -> dict[int, Any]:
    rows = [
        (k, observed, weight)
        for k, table in enumerate(tables)
        for observed, weight in zip(*table, strict=True)
    ]
    given = rows_given({"k": "int", "seen": "double", "part": "double"}, rows)
    return answers(macros()["chi_square_fit"]("given", ["k"], "seen", "part"), NAMES, given=given)


def test_three_printed_examples() -> None:
    # SciPy 1.12, documentation of chisquare: read.
    page = example("i-chisq-scipydoc")
    six, percent = page.inputs["a"], page.inputs["c_exp_pct"]
    found = _fits((six, [1] * 6), (six, page.inputs["b_exp"]), (page.inputs["c_obs"], percent))
    for place in range(3):
        assert found[place]["statistic"] == page.expects(f"s{place + 1}")
        assert found[place]["p"] == page.expects(f"p{place + 1}")
    assert found[2]["p"] == pytest.approx(page.published["p3"], rel=1e-6)


def test_the_likelihood_ratio_of_counts_that_should_be_poisson() -> None:
    # Vignette of the R package XNomial: read; its exact p (.048) is out of SQL's reach.
    vignette = example("i-multinom-xnomial-poisson")
    found = _fits((vignette.inputs["obs"], vignette.inputs["prob"]))[0]
    assert found["likelihood_ratio_p"] == vignette.expects("p_asymptotic")


def test_both_statistics_agree_with_scipy() -> None:
    chance = np.random.default_rng(3)
    tables: list[tuple[Any, Any]] = []
    for cells in (2, 3, 7, 22):
        parts = chance.uniform(0.2, 3, cells)
        tables.append((chance.poisson(4 * parts) + (np.arange(cells) == 0), parts))
    found = _fits(*tables)
    for place, (seen, parts) in enumerate(tables):
        expected = parts / parts.sum() * seen.sum()
        assert found[place]["df"] == len(parts) - 1
        for name, power in (("statistic", "pearson"), ("likelihood_ratio", "log-likelihood")):
            other = stats.power_divergence(seen, expected, lambda_=power)
            assert found[place][name] == pytest.approx(other.statistic, rel=1e-12)
            p = "p" if name == "statistic" else "likelihood_ratio_p"
            assert found[place][p] == pytest.approx(other.pvalue, abs=1e-13)


def test_cells_that_expect_nothing_and_unknown_ones() -> None:
    found = _fits(
        ([4, 6, 0], [1, 1, 0]),
        ([4, 6, 1], [1, 1, 0]),
        ([4, None, 6, 9], [1, 1, 1, None]),
        ([5], [1]),
    )
    assert found[0]["statistic"] == pytest.approx(0.4)
    assert found[0]["likelihood_ratio"] == pytest.approx(8 * np.log(0.8) + 12 * np.log(1.2))
    assert (found[1]["p"], found[1]["likelihood_ratio_p"]) == (0.0, 0.0)
    assert (found[2]["cell_count"], found[2]["statistic"]) == (2, pytest.approx(0.4))
    assert (found[3]["df"], found[3]["p"]) == (0, None)
