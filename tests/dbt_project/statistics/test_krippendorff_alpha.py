"""Krippendorff's alpha in its four metrics: published data with gaps, brute force over pairs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import example as case
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.given_rows import answers, given
from tests.dbt_project.macro_runner import macros

NAMES = ("unit_count", "rating_count", "alpha")
METRICS = ("nominal", "ordinal", "interval", "ratio")
Units = Sequence[Sequence[int | None]]


def _alpha(groups: Sequence[Units], metric: str, kind: str = "int") -> dict[Any, dict[str, Any]]:
    rows = [
        (k, u, code)
        for k, units in enumerate(groups)
        for u, codes in enumerate(units)
        for code in codes
    ]
    query = macros()["krippendorff_alpha"]("seen", ["k"], "u", "c", metric)
    return answers(query, NAMES, seen=given({"k": "int", "u": "int", "c": kind}, rows))


# Krippendorff (2011), example C, and the irrCAC vignette: read; interval and ratio from memory.
@pytest.mark.parametrize("metric", METRICS)
def test_four_observers_with_gaps_have_the_published_alpha(metric: str) -> None:
    gaps = example("f-gwet-krippendorff-4raters-missing")
    got = _alpha([gaps.inputs["ratings"]], metric)[0]
    assert (got["unit_count"], got["rating_count"]) == (11, 40)
    assert got["alpha"] == gaps.expects(f"alpha_{metric}")
    if metric == "nominal":
        assert got["alpha"] == gaps.expects("alpha_nominal_5dp")


# Wikipedia and the docstring of a Python package: read.
@pytest.mark.parametrize("metric", ["nominal", "interval"])
def test_three_coders_with_many_gaps_have_the_published_alpha(metric: str) -> None:
    coders = example("f-krippendorff-wikipedia-3coders")
    units = list(zip(*coders.inputs["ratings"], strict=True))
    assert _alpha([units], metric)[0]["alpha"] == coders.expects(metric)


# Krippendorff (2011), section B: read. Codes are letters.
def test_ben_and_gerry_have_the_published_alpha() -> None:
    two = example("f-krippendorff2011-B-nominal")
    units = list(zip(two.inputs["ben"], two.inputs["gerry"], strict=True))
    assert _alpha([units], "nominal", "string")[0]["alpha"] == two.expects("alpha")


# Gwet (2014), irrCAC vignette: read.
def test_gwets_abstractors_have_the_published_alpha() -> None:
    gwet = example("f-gwet-abstractors-3x3")
    units = [
        (x, y)
        for x, row in enumerate(gwet.inputs["counts"])
        for y, count in enumerate(row)
        for _ in range(int(count))
    ]
    assert _alpha([units], "nominal")[0]["alpha"] == gwet.expects("krippendorff")


def test_without_a_second_code_or_a_second_rating_there_is_no_alpha() -> None:
    assert _alpha([[[2, 2], [2, 2, 2]]], "interval")[0]["alpha"] is None
    assert _alpha([[[1], [2], [None, 3]]], "nominal") == {}


def test_two_zeros_are_not_apart_on_a_ratio_scale() -> None:
    assert _alpha([[[0, 0], [1, 1]]], "ratio")[0]["alpha"] == 1.0


def _brute(units: Units, metric: str) -> float | None:
    """Mean distance within units over the mean distance of any two ratings."""
    rated = [[c for c in codes if c is not None] for codes in units]
    rated = [codes for codes in rated if len(codes) >= 2]
    every = [c for codes in rated for c in codes]

    def apart(one: int, other: int) -> float:
        if metric == "nominal":
            return float(one != other)
        if metric == "interval":
            return float(one - other) ** 2
        if metric == "ratio":
            return ((one - other) / (one + other)) ** 2 if one + other else 0.0
        low, high = min(one, other), max(one, other)
        between = sum(low <= c <= high for c in every)
        return (between - (every.count(low) + every.count(high)) / 2) ** 2

    luck = sum(apart(a, b) for a in every for b in every) / (len(every) * (len(every) - 1))
    if luck == 0:
        return None
    seen = sum(apart(a, b) / (len(codes) - 1) for codes in rated for a in codes for b in codes)
    return 1 - seen / len(every) / luck


@settings(max_examples=12, deadline=None)
@over(
    st.lists(
        st.lists(
            st.lists(st.sampled_from([None, 0, 1, 2, 5]), min_size=1, max_size=4),
            min_size=1, max_size=9,
        ),
        min_size=1, max_size=5,
    ),
    st.sampled_from(METRICS),
)  # fmt: skip
@case([[[3, 3]], [[1, 2]]], "ordinal")
def test_it_agrees_with_the_mean_over_all_pairs(groups: list[Units], metric: str) -> None:
    got = _alpha(groups, metric)
    for k, units in enumerate(groups):
        sizes = [sum(code is not None for code in codes) for codes in units]
        if max(sizes) < 2:
            assert k not in got
            continue
        expected = _brute(units, metric)
        assert got[k]["rating_count"] == sum(size for size in sizes if size >= 2)
        assert got[k]["alpha"] == (None if expected is None else pytest.approx(expected, abs=1e-9))


def test_numbers_far_apart_are_no_trouble() -> None:
    units = np.array([[1, 2], [1000, 1000], [1, 1]]).tolist()
    assert _alpha([units], "interval")[0]["alpha"] == pytest.approx(_brute(units, "interval"))
