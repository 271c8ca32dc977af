"""Draws until everyone had one: classical values and the sums themselves."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.macro_runner import scalar


def test_the_classical_values_come_out() -> None:
    # Feller (1968) vol. 1, IX.3: from memory.
    classic = example("i-coupon-collector")
    for pupils in (6, 50, 365):
        assert scalar("coupon_collector_mean", str(pupils)) == classic.expects(f"e{pupils}")
    assert scalar("coupon_collector_variance", "6") == classic.expects("var6")


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 500))
def test_mean_and_variance_are_those_of_the_waits_for_each_new_child(pupils: int) -> None:
    chances = [new / pupils for new in range(1, pupils + 1)]
    mean = scalar("coupon_collector_mean", "n", n=pupils)
    variance = scalar("coupon_collector_variance", "n", n=pupils)
    assert mean == pytest.approx(sum(1 / p for p in chances), rel=1e-11)
    assert variance == pytest.approx(sum((1 - p) / p**2 for p in chances), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("name", ["coupon_collector_mean", "coupon_collector_variance"])
@pytest.mark.parametrize("pupils", ["0", "-3", "cast(null as bigint)"])
def test_nobody_is_never_complete(name: str, pupils: str) -> None:
    assert scalar(name, pupils) is None
