"""Pooling of one figure towards the school's: the worked example, and the two ends."""

from __future__ import annotations

import pytest

from tests.dbt_project.macro_runner import scalar

NAMES = ("v", "s")


def test_a_class_of_two_visits_is_pulled_a_good_way_to_the_school() -> None:
    given_class = ("0.115 * 0.115 / 2", "0.06 * 0.06")
    assert scalar("shrink_weight", *given_class) == pytest.approx(0.35, abs=0.005)
    estimate = scalar("shrink_estimate", "0.66", given_class[0], "0.80", given_class[1])
    assert estimate == pytest.approx(0.751, abs=5e-4)
    assert scalar("shrink_sd", *given_class) == pytest.approx(0.048, abs=5e-4)


@pytest.mark.parametrize(("visits", "sd"), [(2, 0.048), (4, 0.042), (6, 0.037)])
def test_more_visits_leave_less_doubt(visits: int, sd: float) -> None:
    found = scalar("shrink_sd", f"0.115 * 0.115 / {visits}", "0.06 * 0.06")
    assert found == pytest.approx(sd, abs=6e-4)
    assert found == pytest.approx((1 / 0.06**2 + visits / 0.115**2) ** -0.5, rel=1e-12)


def test_without_errors_a_figure_stands_and_without_spread_it_is_the_schools() -> None:
    assert scalar("shrink_estimate", "0.6", "v", "0.8", "s", v=0.0, s=0.01) == pytest.approx(0.6)
    assert scalar("shrink_estimate", "0.6", "v", "0.8", "s", v=0.01, s=0.0) == pytest.approx(0.8)
    assert scalar("shrink_sd", *NAMES, v=0.01, s=0.0) == 0.0


def test_without_any_spread_there_is_nothing_to_weigh() -> None:
    assert scalar("shrink_weight", *NAMES, v=0.0, s=0.0) is None
    assert scalar("shrink_weight", *NAMES, v=None, s=1.0) is None
