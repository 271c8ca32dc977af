"""Coefficients from variance components: published ratings, hand figures, edges."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given as over
from hypothesis import settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.given_rows import given
from tests.dbt_project.macro_runner import macros, scalar, table

PARTS = st.floats(0, 100).map(lambda one: round(one, 6))


# Shrout & Fleiss (1979): data read; the identity with ICC is our own.
def test_one_facet_of_raters_gives_the_intraclass_correlations() -> None:
    facet = example("e-gtheory-onefacet-sf")
    rows = [
        (1, s, r, y) for s, row in enumerate(facet.inputs["ratings"]) for r, y in enumerate(row)
    ]
    kinds = {"k": "int", "s": "int", "r": "int", "y": "double"}
    query = macros()["variance_components"]("seen", ["k"], ["s", "r"], "y")
    for raters in (1, 4):
        relative, absolute = f"residual_variance / {raters}", (
            f"(r_variance + residual_variance) / {raters}"
        )  # fmt: skip
        g = macros()["g_coefficient"]("s_variance", relative)
        phi = macros()["phi_coefficient"]("s_variance", absolute)
        got = table(f"select {g}, {phi} from ({query})", seen=given(kinds, rows))[0]
        assert got[0] == facet.expects(f"Erho2_{raters}")
        assert got[1] == facet.expects(f"Phi_{raters}")


def test_a_decision_far_from_the_criterion_is_surer_than_the_score() -> None:
    """.04 between classes, .12 of error: .25; a mean .2 off the line adds .04 to both."""
    assert scalar("phi_coefficient", "w", "a", w=0.04, a=0.12) == pytest.approx(0.25)
    parts = {"w": 0.04, "a": 0.12, "m": 0.6, "c": 0.8, "v": 0.01}
    at = scalar("phi_at_criterion", "w", "a", "m", "c", **parts)
    assert at == pytest.approx(0.08 / 0.20)
    corrected = scalar("phi_at_criterion", "w", "a", "m", "c", "v", **parts)
    assert corrected == pytest.approx(0.07 / 0.19)


def test_the_correction_never_takes_off_more_than_there_is() -> None:
    parts = {"w": 0.04, "a": 0.12, "m": 0.79, "c": 0.8, "v": 0.01}
    assert scalar("phi_at_criterion", "w", "a", "m", "c", "v", **parts) == pytest.approx(0.25)


def test_without_any_variance_or_with_an_unknown_one_there_is_no_coefficient() -> None:
    for name in ("g_coefficient", "phi_coefficient"):
        assert scalar(name, "w", "e", w=0.0, e=0.0) is None
        assert scalar(name, "w", "e", w=None, e=1.0) is None
        assert scalar(name, "w", "e", w=2.0, e=0.0) == 1.0
    unknown = {"w": 1.0, "a": 1.0, "m": None, "c": 0.8}
    assert scalar("phi_at_criterion", "w", "a", "m", "c", **unknown) is None
    nothing = {"w": 0.0, "a": 0.0, "m": 0.8, "c": 0.8}
    assert scalar("phi_at_criterion", "w", "a", "m", "c", **nothing) is None


def test_below_zero_is_zero_and_null_stays_null() -> None:
    assert [scalar("not_below_zero", "x", x=x) for x in (-2.0, 0.0, 3.0, None)] == [0, 0, 3, None]


@settings(max_examples=20, deadline=None)
@over(PARTS, PARTS, st.floats(0, 1), st.floats(0, 1))
def test_at_the_criterion_it_is_never_below_phi(w: float, a: float, m: float, c: float) -> None:
    phi = scalar("phi_coefficient", "w + 0", "a + 0", w=w, a=a)
    at = scalar("phi_at_criterion", "w + 0", "a + 0", "m + 0", "c + 0", w=w, a=a, m=m, c=c)
    if phi is not None:
        assert phi == pytest.approx(w / (w + a))
        assert at >= phi - 1e-12
        assert at == pytest.approx((w + (m - c) ** 2) / (w + a + (m - c) ** 2))
    assert not np.isnan(at or 0.0)
