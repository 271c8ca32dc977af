"""Kappa and weighted kappa against published tables, scikit-learn and statsmodels."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st
from sklearn.metrics import cohen_kappa_score
from statsmodels.stats.inter_rater import cohens_kappa

from tests.check_values import example
from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros, table

COLUMNS = {"k": "int", "x": "int", "y": "int", "n": "double"}
NAMES = (
    "pair_count", "observed_agreement", "expected_agreement", "kappa", "kappa_se", "kappa_low",
    "kappa_high", "kappa_null_se", "kappa_z",
)  # fmt: skip
Tables = list[list[list[float]]]


def _rows(tables: Tables) -> list[tuple[Any, ...]]:
    return [
        (k, x, y, count)
        for k, counts in enumerate(tables)
        for x, row in enumerate(counts)
        for y, count in enumerate(row)
    ]


def _kappa(tables: Tables, weights: str = "nominal", **more: str) -> dict[Any, dict[str, Any]]:
    query = macros()["weighted_kappa"]("seen", ["k"], "x", "y", weights, "n")
    return answers(query, NAMES, seen=given(COLUMNS, _rows(tables)), **more)


def _matrix(weights: list[list[float]]) -> str:
    rows = [(x, y, v) for x, row in enumerate(weights) for y, v in enumerate(row)]
    return given({"first_code": "int", "second_code": "int", "disagreement": "double"}, rows)


# SAS PROC FREQ printout: read. Simple and linear weighted kappa, n = 19.
def test_the_printed_table_of_19_comes_out_with_errors_and_test() -> None:
    sas = example("f-kappa-sas-3x3")
    simple = _kappa([sas.inputs["counts"]])[0]
    assert simple["kappa"] == sas.expects("kappa")
    assert simple["kappa_se"] == sas.expects("ase")
    assert (simple["kappa_low"], simple["kappa_high"]) == (sas.expects("lo"), sas.expects("hi"))
    assert simple["kappa_null_se"] == sas.expects("ase0")
    assert simple["kappa_z"] == sas.expects("z")
    weighted = _kappa([sas.inputs["counts"]], "linear")[0]
    assert weighted["kappa"] == sas.expects("kw")
    assert weighted["kappa_se"] == sas.expects("kw_ase")
    assert weighted["kappa_low"] == sas.expects("kw_lo")
    assert weighted["kappa_high"] == sas.expects("kw_hi")


# Cohen (1968): read. Disagreement weights, also ones that differ by direction.
def test_cohens_own_weights_also_when_they_differ_by_direction() -> None:
    cohen = example("f-cohen-1968")
    counts = (np.array(cohen.inputs["proportions"]) * cohen.inputs["n"]).tolist()
    assert _kappa([counts])[0]["kappa"] == cohen.expects("kappa")
    for weights, name in (("weights", "weighted"), ("weights2", "weighted_asymmetric")):
        got = _kappa([counts], "scale", scale=_matrix(cohen.inputs[weights]))[0]
        assert got["kappa"] == cohen.expects(name)


# Table from memory, value read (secondary).
def test_the_textbook_two_by_two_is_040() -> None:
    textbook = example("f-kappa-wikipedia-2x2")
    got = _kappa([textbook.inputs["counts"]])[0]
    assert got["observed_agreement"] == textbook.expects("po")
    assert got["expected_agreement"] == pytest.approx(0.5)
    assert got["kappa"] == textbook.expects("kappa")


# Feinstein & Cicchetti (1990): from memory.
def test_the_same_agreement_can_be_a_high_and_a_low_kappa() -> None:
    paradox = example("f-kappa-paradox-feinstein")
    got = _kappa([paradox.inputs["t1"], paradox.inputs["t2"]])
    assert got[0]["observed_agreement"] == paradox.expects("po1")
    assert got[1]["observed_agreement"] == paradox.expects("po2")
    assert (got[0]["kappa"], got[1]["kappa"]) == (paradox.expects("k1"), paradox.expects("k2"))


# Gwet (2014), irrCAC vignette: read. Its standard error has n - 1 in its divisor.
def test_gwets_abstractors_have_the_published_kappa() -> None:
    gwet = example("f-gwet-abstractors-3x3")
    got = _kappa([gwet.inputs["counts"]])[0]
    assert got["observed_agreement"] == gwet.expects("percent_agreement")
    assert got["kappa"] == gwet.expects("cohen")
    assert got["kappa_se"] * (100 / 99) ** 0.5 == gwet.expects("se_cohen")


# Fleiss (1971), raters 1 and 2: kappa and z read.
def test_the_first_two_of_fleiss_raters_have_the_published_kappa_and_z() -> None:
    fleiss = example("f-fleiss-1971")
    ratings = [(0, *unit[:2]) for unit in fleiss.inputs["ratings"]]
    query = macros()["cohen_kappa"]("seen", ["k"], "x", "y")
    rows = given({"k": "int", "x": "int", "y": "int"}, ratings)
    got = answers(query, NAMES, seen=rows)[0]
    assert got["kappa"] == fleiss.expects("kappa_r1_r2")
    assert got["kappa_z"] == fleiss.expects("z_r1_r2")


def test_agreement_86_in_a_hundred_is_72_at_even_odds_and_22_where_most_are_alike() -> None:
    """The design's figures: .86 alike, half of each observer's looks present, or 90 %."""
    got = _kappa([[[43, 7], [7, 43]], [[83, 7], [7, 3]]])
    assert [round(got[table_number]["kappa"], 2) for table_number in (0, 1)] == [0.72, 0.22]
    assert [one["observed_agreement"] for one in got.values()] == pytest.approx([0.86, 0.86])


def test_limits_follow_the_level_asked_for() -> None:
    query = macros()["cohen_kappa"]("seen", ["k"], "x", "y", "n", "0.5")
    rows = given(COLUMNS, _rows([[[20, 5], [10, 15]]]))
    got = answers(query, NAMES, seen=rows)[0]
    assert got["kappa_high"] - got["kappa"] == pytest.approx(0.6744897501960817 * got["kappa_se"])


def test_one_code_throughout_has_no_kappa() -> None:
    for weights in ("nominal", "linear", "quadratic"):
        got = _kappa([[[7]]], weights)[0]
        assert (got["pair_count"], got["kappa"], got["kappa_se"]) == (7, None, None)
        assert (got["kappa_null_se"], got["observed_agreement"]) == (None, 1.0)
        assert got["expected_agreement"] == 1.0


def test_full_agreement_on_two_codes_is_one_without_error() -> None:
    got = _kappa([[[3, 0], [0, 4]]])[0]
    assert (got["kappa"], got["kappa_se"], got["kappa_high"]) == (1.0, 0.0, 1.0)


def test_a_pair_of_codes_without_a_weight_leaves_no_figure() -> None:
    scale = given(
        {"first_code": "int", "second_code": "int", "disagreement": "double"},
        [(0, 0, 0.0), (0, 1, 1.0), (1, 1, 0.0)],
    )
    assert _kappa([[[4, 1], [2, 3]]], "scale", scale=scale)[0]["kappa"] is None


def test_rows_with_a_missing_code_or_no_weight_are_left_out() -> None:
    rows = [(0, 0, 0, 2.0), (0, 1, 1, 2.0), (0, None, 1, 5.0), (0, 1, None, 5.0), (0, 0, 2, 0.0)]
    query = macros()["cohen_kappa"]("seen", ["k"], "x", "y", "n")
    got = answers(query, NAMES, seen=given(COLUMNS, rows))[0]
    assert (got["pair_count"], got["kappa"]) == (4, 1.0)
    assert answers(query, NAMES, seen=given(COLUMNS, [])) == {}


SIZES = st.integers(2, 4)
TABLES = st.lists(
    SIZES.flatmap(
        lambda q: st.lists(
            st.lists(st.integers(0, 9), min_size=q, max_size=q), min_size=q, max_size=q
        )
    ),
    min_size=1, max_size=6,
)  # fmt: skip


@settings(max_examples=12, deadline=None)
@over(TABLES, st.sampled_from(["nominal", "linear", "quadratic"]))
@case([[[1, 0], [0, 0]], [[0, 1], [0, 0]], [[0, 2], [2, 0]]], "linear")
def test_it_agrees_with_scikit_learn_and_statsmodels(tables: Tables, weights: str) -> None:
    got = _kappa(tables, weights)
    for k, counts in enumerate(tables):
        array = np.array(counts, dtype=float)
        if array.sum() == 0:
            assert k not in got
            continue
        _compare(got[k], array, None if weights == "nominal" else weights)


def _compare(got: dict[str, Any], counts: np.ndarray, weights: str | None) -> None:
    used = {int(one) for one in np.argwhere(counts).ravel()}
    assert got["pair_count"] == counts.sum()
    if len(used) == 1 or _luck(counts, weights) == 0:
        assert got["kappa"] is None
        return
    times = counts.ravel().astype(int)
    x, y = (np.repeat(index.ravel(), times) for index in np.indices(counts.shape))
    labels = list(range(len(counts)))
    expected = cohen_kappa_score(x, y, labels=labels, weights=weights)
    assert got["kappa"] == pytest.approx(expected, abs=1e-9)
    theirs = cohens_kappa(counts, wt=weights)
    assert got["kappa_se"] == pytest.approx(np.sqrt(max(0.0, theirs.var_kappa)), abs=1e-7)
    assert got["kappa_null_se"] == pytest.approx(np.sqrt(max(0.0, theirs.var_kappa0)), abs=1e-7)


def _luck(counts: np.ndarray, weights: str | None) -> float:
    x, y = np.indices(counts.shape)
    apart = (x != y) if weights is None else np.abs(x - y)
    return float((np.outer(counts.sum(1), counts.sum(0)) * apart).sum())


def test_the_sums_behind_it_are_means_over_the_square() -> None:
    sums = macros()["kappa_sums"]("seen", ["k"], "x", "y", "quadratic", "n")
    query = f"select * from ({sums})"
    relation = given(COLUMNS, _rows([[[4, 1, 0], [2, 3, 1], [0, 1, 6]]]))
    _, total, worst, seen, luck, *_ = table(query, seen=relation)[0]
    assert (total, worst) == (18, 4)
    assert seen == pytest.approx(5 / 18)
    rows, columns, v = np.array([5, 6, 7]) / 18, np.array([6, 5, 7]) / 18, np.arange(3)
    assert luck == pytest.approx(rows @ (v[:, None] - v[None, :]) ** 2 @ columns)
