"""False discovery rates: the paper's worked example, scipy on ties and groups, unknown p."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from tests.check_values import example
from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import macros, table


def _adjusted(
    groups: Sequence[Sequence[float | None]], keys: Sequence[str] = ("k",)
) -> list[list[Any]]:
    rows = [(k, i, p) for k, group in enumerate(groups) for i, p in enumerate(group)]
    query = macros()["benjamini_hochberg"]("given", list(keys), "p")
    given = rows_given({"k": "int", "i": "int", "p": "double"}, rows)
    found = table(f"select k, i, p, adjusted_p from ({query}) order by k, i", given=given)
    assert [row[:3] for row in found] == rows
    return [[row[3] for row in found if row[0] == k] for k in range(len(groups))]


def test_fifteen_end_points_of_the_paper() -> None:
    # Benjamini & Hochberg (1995), section 4.1: read.
    paper = example("c-bh1995-15")
    found = np.array(_adjusted([paper.inputs["p"]])[0])
    assert found.tolist() == paper.expects("adjusted")
    is_found = found <= paper.inputs["q"]
    p = np.array(paper.inputs["p"])
    assert is_found.sum() == paper.expects("bh_rejected")
    assert p[is_found].max() == paper.expects("bh_cutoff")
    assert 4 / len(p) * paper.inputs["q"] == paper.expects("threshold_at_4")
    assert (p * len(p) <= paper.inputs["q"]).sum() == paper.expects("bonferroni_rejected")


def test_a_smaller_rate_is_carried_down_and_the_order_is_kept() -> None:
    # Hand example: read as quoted by others.
    hand = example("c-bh-small-carry")
    first, second = _adjusted([hand.inputs["p1"], hand.inputs["p2"]])
    assert first == hand.expects("q1")
    assert second == hand.expects("q2")


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.lists(st.sampled_from([0, 0.001, 0.01, 0.02, 0.04, 0.2, 0.21, 0.7, 1]), min_size=1),
        min_size=1,
    )
)
def test_each_group_agrees_with_scipy(groups: list[list[float]]) -> None:
    for found, p in zip(_adjusted(groups), groups, strict=True):
        assert found == pytest.approx(
            stats.false_discovery_control(np.array(p, dtype=float)), abs=1e-14
        )


def test_without_keys_all_rows_are_one_review() -> None:
    found = _adjusted([[0.01, 0.04], [0.03, 0.005]], keys=())
    assert found == [pytest.approx([0.02, 0.04]), pytest.approx([0.04, 0.02])]


def test_a_row_without_p_counts_for_nothing() -> None:
    assert _adjusted([[0.02, None, 0.5], [None]]) == [[0.04, None, 0.5], [None]]
