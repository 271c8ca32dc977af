"""The test of an offer as the models call it, and what must hold for the control of luck."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from typing import Any

import jinja2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from ingest.thresholds import defaults
from tests.dbt_project.given_rows import given as rows_given
from tests.dbt_project.macro_runner import MACROS, macros, table

COLUMNS = {
    "value": "double", "session_count": "bigint", "score_variance": "double",
    "pooled_variance": "double", "pooled_df": "bigint", "denominator_count": "double",
}  # fmt: skip
Row = tuple[float, int, float | None, float | None, int, float]


@cache
def _offer_test() -> str:
    """The query of the macro on a relation named `given`, at the default thresholds."""
    environment = jinja2.Environment()
    environment.globals.update(macros())
    environment.globals["threshold"] = lambda name: str(defaults()[name])
    files = ("pooled_df_needed.sql", "offer_test.sql")
    text = "".join((MACROS / "measures" / name).read_text("utf-8") for name in files)
    query: str = vars(environment.from_string(text).module)["offer_test"]("given")
    return query


def _tested(rows: Sequence[Row]) -> list[dict[str, Any]]:
    names = ("standard_error", "spread_df", "p_value", "upper_one_sided", "lower_one_sided",
             "lower_two_sided")  # fmt: skip
    found = table(
        f"select {', '.join(names)} from ({_offer_test()})", given=rows_given(COLUMNS, rows)
    )
    return [dict(zip(names, row, strict=True)) for row in found]


def test_the_spread_of_the_school_stands_beside_the_class_s_own() -> None:
    # Three visits, mean .62, own variance .02; the school's .012 counts for eight degrees: .0136.
    (found,) = _tested([(0.62, 3, 0.02, 0.012, 44, 120.0)])
    error = math.sqrt((8 * 0.012 + 2 * 0.02) / 10 / 3)
    assert found["standard_error"] == pytest.approx(error)
    assert found["spread_df"] == 10
    assert found["p_value"] == pytest.approx(stats.t.cdf((0.62 - 0.80) / error, 10), abs=1e-9)
    assert found["upper_one_sided"] == pytest.approx(0.62 + stats.t.ppf(0.90, 10) * error, abs=1e-5)
    assert found["lower_one_sided"] == pytest.approx(0.62 - stats.t.ppf(0.90, 10) * error, abs=1e-5)
    assert found["lower_two_sided"] == pytest.approx(
        0.62 - stats.t.ppf(0.975, 10) * error, abs=1e-5
    )


def test_a_school_seen_too_little_takes_the_spread_of_clustered_looks_at_the_line() -> None:
    # 40 looks a visit, rho .074: .80 x .20 x (1 + 39 x .074) / 40 = .015544.
    few, none, many = _tested(
        [
            (0.62, 3, 0.02, 0.012, 9, 120.0),
            (0.62, 3, 0.02, None, 0, 120.0),
            (0.62, 3, 0.02, 0.012, 10, 120.0),
        ]
    )
    error = math.sqrt((8 * 0.015544 + 2 * 0.02) / 10 / 3)
    assert few["standard_error"] == none["standard_error"] == pytest.approx(error)
    assert many["standard_error"] == pytest.approx(math.sqrt(0.0136 / 3))


def test_visits_all_alike_are_not_certain_and_bounds_stay_shares() -> None:
    alike, single = _tested([(0.97, 3, 0.0, 0.012, 44, 120.0), (0.03, 1, None, 0.012, 44, 40.0)])
    assert alike["standard_error"] > 0
    assert alike["upper_one_sided"] == 1.0
    assert single["spread_df"] == 8
    assert single["lower_two_sided"] == single["lower_one_sided"] == 0.0


def _adjusted(p: Sequence[float]) -> list[float]:
    query = macros()["benjamini_hochberg"]("given", ["review"], "p")
    rows = [(1, place, one) for place, one in enumerate(p)]
    found = table(
        f"select adjusted_p from ({query}) order by place",
        given=rows_given({"review": "int", "place": "int", "p": "double"}, rows),
    )
    return [float(one) for (one,) in found]


CHANCES = st.lists(st.floats(0.0, 1.0), min_size=2, max_size=30)


@settings(max_examples=25, deadline=None)
@given(CHANCES)
def test_a_lower_chance_is_never_judged_stricter_than_a_higher_one(p: list[float]) -> None:
    adjusted = _adjusted(p)
    ordered = [found for _, found in sorted(zip(p, adjusted, strict=True))]
    assert ordered == pytest.approx(sorted(ordered), abs=1e-12)
    assert all(found >= one - 1e-12 for one, found in zip(p, adjusted, strict=True))


@settings(max_examples=25, deadline=None)
@given(CHANCES, st.data())
def test_when_one_line_looks_worse_no_other_line_loses_its_offer(
    p: list[float], data: st.DataObject
) -> None:
    place = data.draw(st.integers(0, len(p) - 1))
    lower = [one * 0.5 if number == place else one for number, one in enumerate(p)]
    for before, after in zip(_adjusted(p), _adjusted(lower), strict=True):
        assert after <= before + 1e-12
