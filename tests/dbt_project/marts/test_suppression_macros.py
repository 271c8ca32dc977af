"""The small-cell rules on worked examples, and what an attacker is left with."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.dbt_project.marts.attack import difference, recovered
from tests.dbt_project.marts.macros import reasons, value

CELL = {"small_cell": 10, "grade_matter_classes": 3}


@pytest.mark.parametrize(
    ("people", "classes", "reason"),
    [
        (9, 3, "small_cell"),
        (10, 3, None),
        (0, 0, "small_cell"),
        (60, 2, "few_classes"),
        (None, 3, "small_cell"),
        (60, None, "few_classes"),
    ],
)
def test_a_group_gives_its_own_reason(
    people: float | None, classes: float | None, reason: str | None
) -> None:
    got = value(
        "small_group_reason", "people", "classes", thresholds=CELL, people=people, classes=classes
    )
    assert got == reason


@pytest.mark.parametrize(
    ("counted", "total", "reason", "low", "high"),
    [
        (7, 9, "small_cell", None, None),
        (7, 481, "end_coarsened", 0.0, 9 / 481),
        (478, 481, "end_coarsened", 472 / 481, 1.0),
        (481, 481, "end_coarsened", 472 / 481, 1.0),
        (0, 481, "end_coarsened", 0.0, 9 / 481),
        (10, 20, None, None, None),
        (10, 19, "end_coarsened", 10 / 19, 1.0),
        (None, 481, None, None, None),
    ],
)
def test_both_ends_of_a_share_of_people_are_coarsened(
    counted: float | None, total: float, reason: str | None, low: float | None, high: float | None
) -> None:
    names = ("counted", "total")
    row = {"counted": counted, "total": total}
    assert value("small_end_reason", *names, thresholds=CELL, **row) == reason
    if reason == "end_coarsened":
        assert value("coarse_low", *names, thresholds=CELL, **row) == pytest.approx(low)
        assert value("coarse_high", *names, thresholds=CELL, **row) == pytest.approx(high)


@pytest.mark.parametrize(
    ("people", "least", "expected"),
    [
        ([12, 30, 41], 10, [None, None, None]),
        ([3, 30, 41], 10, ["small_cell", "complementary", None]),
        ([41, 30, 3], 10, [None, "complementary", "small_cell"]),
        ([2, 3, 40], 10, ["small_cell", "small_cell", "complementary"]),
        ([0, 40], 10, ["small_cell", "complementary"]),
        ([7], 10, ["small_cell"]),
        ([3, 20, 20], 10, ["small_cell", "complementary", None]),
        ([5, 5, 30], 10, ["small_cell", "small_cell", None]),
    ],
)
def test_a_withheld_row_finds_company(
    people: list[float], least: int, expected: list[str | None]
) -> None:
    assert reasons(people, least) == expected


def test_a_large_row_withheld_for_another_reason_finds_company_too() -> None:
    assert reasons([50, 60, 70], 10, marked=[0]) == ["few_classes", "complementary", None]
    assert reasons([50, 60, 40], 10, marked=[0]) == ["few_classes", None, "complementary"]


def test_new_york_withholds_the_next_smallest_group_too() -> None:
    """New York State Education Department report cards (rule read in the source): fewer than five
    tested, and the next smallest group; together they are shown as 11."""
    people = [3, 8, 20, 40]
    got = reasons(people, 5)
    assert got == ["small_cell", "complementary", None, None]
    assert sum(count for count, reason in zip(people, got, strict=True) if reason) == 11


@pytest.mark.parametrize(
    ("people", "shown"), [([10, 5], [None, None]), ([10, 6], [10, 6]), ([6, 6], [6, 6])]
)
def test_wisconsin_withholds_both_of_two_categories(
    people: list[float], shown: list[float | None]
) -> None:
    """Wisconsin DPI, "Why are data for some student groups not reported?" (read): groups of five or
    fewer; of 10 and 5 neither is reported, the total is."""
    got = reasons(people, 6)
    assert [None if reason else n for n, reason in zip(people, got, strict=True)] == shown


def test_the_attack_sees_what_primary_withholding_alone_gives_away() -> None:
    """Hand example with margins (own construction), cells under 5 withheld and nothing else: 3."""
    row = {"a": 12.0, "b": 7.0, "c": None}
    assert difference(row, 22)["c"].is_recovered
    assert difference(row, 22)["c"].low == 3
    assert recovered([(row, 22), ({"a": 12.0, "b": None, "c": None}, 22)]) == ["c"]


@settings(deadline=None, max_examples=60)
@given(st.lists(st.integers(0, 60), min_size=2, max_size=7))
def test_no_margin_gives_a_small_row_away(people: list[int]) -> None:
    """Whatever the sizes: never one alone, and never a small sum, unless the total is small."""
    got = reasons(people, 10)
    withheld = [n for n, reason in zip(people, got, strict=True) if reason]
    assert all(reason for n, reason in zip(people, got, strict=True) if n < 10)
    if withheld:
        assert min(people) < 10
        assert len(withheld) >= 2
        assert sum(withheld) >= 10 or len(withheld) == len(people)
