"""Points put in their order."""

from __future__ import annotations

from tests.dbt_project.macro_runner import macros
from tests.dbt_project.series import pairs, rows_of, series


def test_points_are_numbered_by_their_order_and_not_as_they_came() -> None:
    rows = rows_of("series_in_order", "g", ["k"], "i", "x", g=series([3, None, 1], [5]))
    found = [(row["k"], row["i"], row["series_place"], row["series_value"]) for row in rows]
    assert found == [(1, 1, 1, 3.0), (1, 3, 2, 1.0), (2, 1, 1, 5.0)]


def test_a_point_without_a_place_is_left_out_and_other_columns_come_along() -> None:
    given = pairs([(None, 4.0), (2.0, 5.0)])
    rows = rows_of("series_in_order", "g", ["k"], "x", "y", ["y"], g=given)
    assert [(row["x"], row["y"], row["series_place"]) for row in rows] == [(2.0, 5.0, 1)]


def test_keys_are_named_and_joined_one_by_one() -> None:
    assert macros()["same_keys"]("a", "b", ["k", "m"]).strip() == "a.k = b.k and a.m = b.m"
    assert macros()["keys_of"]("a", ["k", "m"]).strip() == "a.k, a.m"
