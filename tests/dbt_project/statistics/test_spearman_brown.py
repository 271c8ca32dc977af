"""Spearman-Brown in both directions: textbook values, the design's, and each undoing the other."""

from __future__ import annotations

import math

import pytest
from hypothesis import example as case
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import scalar


# Textbook case: from memory.
def test_doubling_a_test_gives_the_textbook_values() -> None:
    classic = example("e-spearman-brown-classic")
    got = [scalar("spearman_brown", "r", "k", r=r, k=2) for r in classic.inputs["r"]]
    assert got == classic.expects("sb")


def test_four_looks_of_040_are_worth_073_and_ten_of_030_reach_080() -> None:
    assert round(scalar("spearman_brown", "r", "k", r=0.40, k=4), 2) == 0.73
    assert math.ceil(scalar("spearman_brown_needed", "r", "t", r=0.30, t=0.80)) == 10


def test_one_look_is_itself_and_half_a_look_less() -> None:
    assert scalar("spearman_brown", "r", "k", r=0.6, k=1) == pytest.approx(0.6)
    assert scalar("spearman_brown", "r", "k", r=0.75, k=0.5) == pytest.approx(0.6)


def test_where_there_is_no_answer_it_is_null() -> None:
    assert scalar("spearman_brown", "r", "k", r=-1.0, k=2) is None
    assert scalar("spearman_brown", "r", "k", r=None, k=2) is None
    assert scalar("spearman_brown_needed", "r", "t", r=0.0, t=0.8) is None
    assert scalar("spearman_brown_needed", "r", "t", r=-0.2, t=0.8) is None
    assert scalar("spearman_brown_needed", "r", "t", r=0.5, t=1.0) is None
    assert scalar("spearman_brown_needed", "r", "t", r=None, t=0.8) is None


def test_a_perfect_look_needs_none_more() -> None:
    assert scalar("spearman_brown_needed", "r", "t", r=1.0, t=0.8) == 0.0


@settings(max_examples=20, deadline=None)
@over(st.floats(0.01, 0.99), st.floats(0.01, 0.99))
@case(0.5, 0.5)
def test_the_looks_needed_reach_the_target(r: float, target: float) -> None:
    looks = scalar("spearman_brown_needed", "r", "t", r=r, t=target)
    assert scalar("spearman_brown", "r", "k", r=r, k=looks) == pytest.approx(target, abs=1e-12)
    assert scalar("spearman_brown", "r + 0", "k + 0", r=r, k=looks) == pytest.approx(target)
