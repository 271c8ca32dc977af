"""Risk ratio, alternate ratio and weighted ratio: the regulation, another library, edges."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.stats.proportion import confint_proportions_2indep

from tests.check_values import example
from tests.dbt_project.macro_runner import macros, table

COUNTS = ("a", "n", "b", "m", "wide_b", "wide_m")
Row = tuple[Any, ...]


def _number(value: Any) -> str:
    return f"cast({'null' if value is None else value} as double)"


def ratios(rows: list[Row], least: tuple[int, int] = (10, 30), level: float = 0.95) -> list[Row]:
    """Basis, ratio, low and high of each row of six counts."""
    parts = [
        macros()[name](*COUNTS, *least, *([level] if name.endswith(("low", "high")) else []))
        for name in ("risk_ratio_basis", "risk_ratio", "risk_ratio_low", "risk_ratio_high")
    ]
    lines = ", ".join(
        f"({place}, {', '.join(map(_number, row))})" for place, row in enumerate(rows)
    )
    return table(
        f"select {', '.join(parts)} from given order by place",
        given=f"select * from (values {lines}) v(place, {', '.join(COUNTS)})",
    )


def test_twelve_of_forty_beside_twenty_of_a_hundred_and_sixty() -> None:
    ((basis, ratio, low, high),) = ratios([(12, 40, 20, 160, None, None)])
    assert basis == "plain"
    assert ratio == pytest.approx(2.40, abs=1e-9)
    assert low == pytest.approx(1.28, abs=0.005)
    assert high == pytest.approx(4.49, abs=0.005)


def test_the_limits_are_those_of_katz() -> None:
    given_case = example("j-katz-fagerland-7-34")  # read
    row = tuple(given_case.inputs[name] for name in ("a", "n1", "b", "n2"))
    ((basis, ratio, low, high),) = ratios([(*row, None, None)], least=(1, 30))
    assert basis == "plain"
    assert ratio == given_case.expects("rr")
    assert low == given_case.expects("lower")
    assert high == given_case.expects("upper")
    assert math.log(high / low) == given_case.expects("log_width")


def test_a_comparison_too_small_gives_way_to_the_wider_one() -> None:
    given_case = example("j-34cfr300-647-definitions")  # definitions partly from memory
    inputs = given_case.inputs
    least = (inputs["min_cell"], inputs["min_n"])
    group, others, wide = (inputs[name] for name in ("lea_group", "lea_others", "state_others"))
    ((basis, ratio, low, high),) = ratios([(*group, *others, *wide)], least)
    assert group[0] / group[1] == given_case.expects("risk_group")
    assert (basis == "plain") == given_case.published["lea_comparison_meets_minimum"]
    assert basis == "alternate"
    assert ratio == given_case.expects("alternate_risk_ratio")
    assert ratios([(*group, *wide, None, None)], least)[0][2:] == pytest.approx((low, high))


@pytest.mark.parametrize(
    ("row", "basis"),
    [
        ((10, 30, 10, 30, None, None), "plain"),
        ((9, 30, 10, 30, 100, 900), None),
        ((10, 29, 10, 30, 100, 900), None),
        ((10, 30, 9, 30, 10, 30), "alternate"),
        ((10, 30, 10, 29, 10, 30), "alternate"),
        ((10, 30, 9, 30, 9, 30), None),
        ((10, 30, 9, 30, 10, 29), None),
        ((10, 30, 9, 30, None, None), None),
        ((None, 30, 10, 30, 10, 30), None),
        ((10, None, 10, 30, 10, 30), None),
        ((10, 30, None, None, 10, 30), "alternate"),
    ],
)
def test_exactly_the_smallest_cell_and_group_are_large_enough(row: Row, basis: str | None) -> None:
    ((got, ratio, low, high),) = ratios([row])
    assert got == basis
    assert (ratio is None) == (low is None) == (high is None) == (basis is None)


def test_nobody_in_either_group_gives_no_ratio_or_none_with_a_range() -> None:
    none_beside, none_here = ratios([(12, 40, 0, 160, None, None), (0, 40, 20, 160, None, None)],
                                    least=(0, 30))  # fmt: skip
    assert none_beside == ("plain", None, None, None)
    assert none_here[1] == 0
    assert none_here[2:] == (None, None)


COUNT = st.integers(1, 60)


@settings(deadline=None, max_examples=15)
@given(
    st.lists(st.tuples(COUNT, COUNT, COUNT, COUNT, COUNT, COUNT), min_size=5, max_size=25),
    st.sampled_from([0.8, 0.95, 0.99]),
)
def test_statsmodels_agrees(extras: list[tuple[int, ...]], level: float) -> None:
    rows = [(a, a + n, b, b + m, c, c + k) for a, n, b, m, c, k in extras]
    got = ratios(rows, level=level)
    for row, (basis, ratio, low, high) in zip(rows, got, strict=True):
        a, n, b, m = row[:4] if basis == "plain" else (*row[:2], *row[4:])
        is_open = row[0] >= 10 and row[1] >= 30
        assert (basis is not None) == (is_open and b >= 10 and m >= 30)
        if basis is None:
            assert (ratio, low, high) == (None, None, None)
            continue
        assert ratio == pytest.approx(a / n / (b / m), rel=1e-12)
        theirs = confint_proportions_2indep(
            a, n, b, m, method="log", compare="ratio", alpha=1 - level, correction=False
        )
        assert (low, high) == pytest.approx(theirs, rel=1e-7)


def weighted(risks: list[float], weights: list[float]) -> list[float]:
    """Weighted ratios of the groups of one place."""
    lines = ", ".join(
        f"({place}, 'here', {_number(risk)}, {_number(weight)})"
        for place, (risk, weight) in enumerate(zip(risks, weights, strict=True))
    )
    macro = macros()["weighted_risk_ratio"]("risk", "weight", ["district"])
    rows = table(
        f"select {macro} from given order by place",
        given=f"select * from (values {lines}, (99, 'there', 0.5::double, 0.5::double))"
        " v(place, district, risk, weight)",
    )
    return [ratio for (ratio,) in rows][:-1]


def test_the_weighted_ratio_is_the_plain_one_where_the_weights_are_the_parts_here() -> None:
    given_case = example("j-weighted-risk-ratio-identity")  # formula from memory
    parts, risks = (
        list(given_case.inputs[name].values()) for name in ("state_composition", "district_risk")
    )
    size = 1000.0
    for place, got in enumerate(weighted(risks, parts)):
        cases = [risk * part * size for risk, part in zip(risks, parts, strict=True)]
        others = sum(cases) - cases[place], size - parts[place] * size
        plain = (cases[place] / (parts[place] * size)) / (others[0] / others[1])
        assert (got == pytest.approx(plain, abs=1e-12)) == given_case.published[
            "equal_when_compositions_match"
        ]


def test_the_weighted_ratio_follows_other_weights() -> None:
    first, second, third = weighted([0.2, 0.1, 0.05], [0.5, 0.25, 0.25])
    assert first == pytest.approx(0.5 * 0.2 / (0.25 * 0.1 + 0.25 * 0.05), abs=1e-12)
    assert second == pytest.approx(0.75 * 0.1 / (0.5 * 0.2 + 0.25 * 0.05), abs=1e-12)
    assert third == pytest.approx(0.75 * 0.05 / (0.5 * 0.2 + 0.25 * 0.1), abs=1e-12)
    assert weighted([0.2, 0.0], [0.5, 0.5]) == [None, 0.0]
