"""Whole percents, points and amounts as people say them."""

from __future__ import annotations

import math

import pytest

from app.text import numbers
from app.text.numbers import NBSP


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.8212, "82 %"),
        (0.8333333, "83 %"),
        (0.125, "13 %"),
        (0.0, "0 %"),
        (1.0, "100 %"),
        (0.001, "under 1 %"),
        (0.999, "over 99 %"),
        (0.995, "100 %"),
        (None, "no figure"),
        (math.nan, "no figure"),
    ],
)
def test_a_share_is_said_in_whole_percents(share: float | None, text: str) -> None:
    assert numbers.percent(share).replace(NBSP, " ") == text


def test_a_range_of_one_value_is_said_once() -> None:
    assert numbers.percent_range(0.801, 0.803).replace(NBSP, " ") == "80 %"
    assert numbers.percent_range(0.76, 0.82).replace(NBSP, " ") == "76 to 82 %"
    assert numbers.percent_range(None, 0.82) == ""


@pytest.mark.parametrize(
    ("before", "after", "text"),
    [
        (0.74, 0.60, "14 points down"),
        (0.74, 0.75, "1 point up"),
        (0.744, 0.741, "about the same"),
    ],
)
def test_a_difference_is_said_in_points(before: float, after: float, text: str) -> None:
    assert numbers.points(before, after) == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (3.0, "per_minute", "3 a minute"),
        (0.41, "per_minute", "0.4 a minute"),
        (2.7, "seconds", "2.7 seconds"),
        (6.0, "days", "6 school days"),
        (1.0, "days", "1 school day"),
        (2.5, "days", "2.5 school days"),
        (1.0, "draw_days", "1 day with draws"),
        (4.0, "draw_days", "4 days with draws"),
        (0.83333333, "coefficient", "0.83"),
        (-0.0512, "coefficient", "−0.05"),
        (7.0, "minutes", "7 minutes"),
        (0.8333333, "ratio", "0.8 to 1"),
        (0.8333333, "count", "0.8"),
        (4.0, "ratio", "4 to 1"),
        (0.3, "level", "a little loud (+0.3)"),
        (-1.2, "level", "quiet (−1.2)"),
        (0.05, "level", "as agreed"),
        (5614.0, "count", "5\u202f614"),
    ],
)
def test_an_amount_is_said_in_its_unit(value: float, unit: str, text: str) -> None:
    assert numbers.amount(value, unit) == text


def test_a_count_agrees_with_its_noun() -> None:
    said = [numbers.counted(n, "class", "classes") for n in (0, 1, 2, None)]
    assert said == ["no classes", "1 class", "2 classes", "no classes"]


@pytest.mark.parametrize(
    ("low", "high", "unit", "text"),
    [
        (0.5512, 0.8123, "coefficient", "0.55 to 0.81"),
        (-0.171, 0.314, "coefficient", "−0.17 to 0.31"),
        (1.73, 9.48, "ratio", "1.7 to 9.5 to 1"),
        (1.0, 3.0, "days", "1 to 3 school days"),
        (1.0, 3.0, "draw_days", "1 to 3 days with draws"),
        (None, 3.0, "days", ""),
    ],
)
def test_a_range_is_said_in_its_unit(
    low: float | None, high: float | None, unit: str, text: str
) -> None:
    assert numbers.amount_range(low, high, unit) == text
