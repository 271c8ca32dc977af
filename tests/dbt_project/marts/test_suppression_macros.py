"""The small-cell rules on worked examples, and what an attacker is left with."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ingest.thresholds import THRESHOLDS
from tests.check_values import example
from tests.dbt_project.linear_attack import System, known
from tests.dbt_project.marts.attack import difference, recovered
from tests.dbt_project.marts.macros import ends, reasons, value

ENDS = ("counted", "rest")
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
        ([5, 5, 30], 10, ["small_cell", "small_cell", "complementary"]),
        ([5, 5, 5, 30], 10, ["small_cell", "small_cell", "small_cell", None]),
        ([9, 9, 1, 30], 10, ["small_cell", "small_cell", "small_cell", "complementary"]),
        ([9, 9, 0, 30], 10, ["small_cell", "small_cell", "small_cell", None]),
        ([9, 9, 30, 31], 10, ["small_cell", "small_cell", "complementary", None]),
        ([3, 12, 30, 31], 10, ["small_cell", "complementary", "complementary", None]),
        ([3, 16, 30, 31], 10, ["small_cell", "complementary", None, None]),
        ([3, 15, 30, 31], 10, ["small_cell", "complementary", "complementary", None]),
        ([9, 10, 30], 10, ["small_cell", "complementary", None]),
        ([9, 9], 10, ["complementary", "complementary"]),
        ([3, 10], 10, ["complementary", "complementary"]),
        ([4, 5], 10, ["small_cell", "small_cell"]),
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
    """Fewer than five tested, and the next smallest group; together shown as 11 (source read)."""
    given_groups = example("l-ny-next-smallest")
    groups = given_groups.inputs["groups"]
    got = dict(zip(groups, reasons(list(groups.values()), 5), strict=True))
    gone = [name for name, reason in got.items() if reason]
    assert gone == given_groups.published["suppressed"]
    assert sum(groups[name] for name in gone) == given_groups.expects("small_group_total")


@pytest.mark.parametrize("place", [0, 1, 2])
def test_wisconsin_withholds_both_of_two_categories(place: int) -> None:
    """Groups of five or fewer: of 10 and 5 neither is reported, the total is (source read)."""
    given_cases = example("l-wi-two-category")
    people = given_cases.inputs["cases"][place]
    *shown, total = given_cases.published["out"][place]
    got = reasons(people, 6)
    assert [None if reason else n for n, reason in zip(people, got, strict=True)] == shown
    assert total == sum(people)
    assert value("small_group_reason", "n", "k", thresholds={**CELL, "small_cell": 6}, n=total,
                 k=3) is None  # fmt: skip


def test_the_attack_sees_what_primary_withholding_alone_gives_away() -> None:
    """Hand example with margins (own construction), cells under 5 withheld and nothing else: 3."""
    row = {"a": 12.0, "b": 7.0, "c": None}
    assert difference(row, 22)["c"].is_recovered
    assert difference(row, 22)["c"].low == 3
    assert recovered([(row, 22), ({"a": 12.0, "b": None, "c": None}, 22)]) == ["c"]


@settings(deadline=None, max_examples=60)
@given(st.lists(st.one_of(st.integers(0, 14), st.integers(0, 60)), min_size=2, max_size=7))
def test_no_margin_gives_a_small_row_away(people: list[int]) -> None:
    """Whatever the sizes and whatever the reasons tell: a small row may be any of 0 to 9."""
    least = 10
    got = reasons(people, least)
    withheld = [n for n, reason in zip(people, got, strict=True) if reason]
    assert all(reason for n, reason in zip(people, got, strict=True) if n < least)
    if min(people) >= least:
        assert not withheld
        return
    if sum(people) < least:
        assert all(got)  # and the parent is withheld for its own size
        return
    system = System()
    tells = "small_cell" in got
    for place, (n, reason) in enumerate(zip(people, got, strict=True)):
        if reason is None:
            system.publish(str(place), n)
        elif tells:
            small = reason == "small_cell"
            system.bound(str(place), 0 if small else least, least - 1 if small else 999)
    system.adds_up([str(place) for place in range(len(people))], "total")
    system.publish("total", sum(people))
    small_rows = [str(place) for place, n in enumerate(people) if n < least]
    for found in known(system, small_rows).values():
        assert found.low <= 1e-6
        assert found.high >= least - 1 - 1e-6


def test_small_rows_alone_would_be_open() -> None:
    """The attack that the rule answers: 9 and 9 of 48, the third shown, the reasons told."""
    system = System()
    system.bound("0", 0, 9)
    system.bound("1", 0, 9)
    system.publish("2", 30)
    system.publish("total", 48)
    system.adds_up(["0", "1", "2"], "total")
    assert known(system, ["0"])["0"].is_exact


@pytest.mark.parametrize(
    ("counted", "rest", "expected"),
    [
        # 8 of 26: the other can give up all nine of its rest that none of the eight would need.
        ([8, 15, 16], [18, 18, 18], ["small_cell", "complementary", None]),
        ([8, 15, 16], [18, 17, 18], ["small_cell", "complementary", "complementary"]),
        ([8, 15, 16], [18, 11, 12], ["complementary", "complementary", "complementary"]),
        # 2 of 40 and 38 of 40: what the one lacks at one end the other holds at the other.
        ([2, 38, 50], [38, 2, 50], ["small_cell", "small_cell", "complementary"]),
    ],
)
def test_the_other_end_of_a_share_must_be_able_to_follow(
    counted: list[float], rest: list[float], expected: list[str | None]
) -> None:
    assert ends(counted, rest, 10) == expected


def _told_of_shares(rows: list[tuple[int, int]], got: list[str | None], least: int) -> System:
    """What a reader knows of shares whose sizes are no secret, and of their parent."""
    system = System()
    tells = "small_cell" in got
    for place, (row, reason) in enumerate(zip(rows, got, strict=True)):
        system.adds_up([f"{name} {place}" for name in ENDS], f"all {place}")
        system.publish(f"all {place}", sum(row))
        for name, n in zip(ENDS, row, strict=True):
            if reason is None:
                system.publish(f"{name} {place}", n)
            elif reason == "small_cell" and n < least and (name == "counted" or row[0] >= least):
                system.bound(f"{name} {place}", 0, least - 1)
            elif tells and reason == "complementary":
                system.bound(f"{name} {place}", least, 999)
    totals = [sum(row[side] for row in rows) for side in (0, 1)]
    for name, total in zip(ENDS, totals, strict=True):
        system.adds_up([f"{name} {place}" for place in range(len(rows))], f"{name} total")
        if min(totals) >= least:
            system.publish(f"{name} total", total)
        elif total < least:
            system.bound(f"{name} total", 0, least - 1)
    return system


# The size of a row that is told is no small one; of both ends that are, one bound is given.
SHARES = st.tuples(st.integers(0, 30), st.integers(0, 30)).filter(lambda row: sum(row) >= 10)


@settings(deadline=None, max_examples=25)
@given(st.lists(SHARES, min_size=2, max_size=6))
def test_neither_end_of_a_share_gives_a_small_row_away(rows: list[tuple[int, int]]) -> None:
    """Beside its parent, and with the size of every row known to all."""
    least = 10
    counted, rest = ([float(row[side]) for row in rows] for side in (0, 1))
    got = ends(counted, rest, least)
    small = [
        f"{name} {place}"
        for place, row in enumerate(rows)
        for name, n in zip(ENDS, row, strict=True)
        if n < least
    ]
    for name, range_of in known(_told_of_shares(rows, got, least), small).items():
        assert range_of.high - range_of.low >= least - 1 - 1e-6, (got, name, range_of)


def test_delaware_withholds_small_groups_and_codes_both_ends() -> None:
    """Fifteen or fewer are not shown, nor what is above 95 or below 5 percent (source read)."""
    given_cases = example("l-de-suppression")
    told = []
    for people, percent in given_cases.inputs["cases"]:
        if value("small_group_reason", "n", "k", thresholds={**CELL, "small_cell": 16}, n=people,
                 k=3):  # fmt: skip
            told.append("-")
            continue
        end = value("coded_end", "share", "5", "95", thresholds=CELL, share=percent)
        told.append({"low": "<5", "high": ">95"}.get(end, percent))
    assert told == given_cases.published["out"]


def _width(text: str) -> float:
    """The width of a published range in words, as a share; none at all where nothing is told."""
    if text == "PS":
        return 1.0
    if text == "GE50/LT50":
        return 0.5
    return 0.01 if text.startswith("whole percent") else int(text.split("-")[0]) / 100


def test_a_bound_is_at_least_as_wide_as_the_ranges_of_the_public_file_up_to_180_children() -> None:
    """EDFacts blurs by group size (from memory, no authority); our end holds nine, whatever the
    size: wider in small groups, and from 181 on narrower though nobody is told apart."""
    given_table = example("l-edfacts-ranges")
    bands = given_table.inputs["table"]
    assert len(bands) == given_table.expects("rows")
    for sizes, text in bands[1:]:
        first, last = (int(size) for size in f"{sizes.rstrip('+')}-400".split("-")[:2])
        for people in {max(first, 10), last}:
            row = {"counted": people - 1.0, "total": float(people)}
            low, high = (
                value(name, "counted", "total", thresholds=CELL, **row)
                for name in ("coarse_low", "coarse_high")
            )
            assert (high - low >= _width(text) - 1e-9) == (people <= 180 or people >= 301)
            assert (high - low) * people == pytest.approx(9)


def test_the_setting_is_what_most_states_use() -> None:
    """Smallest groups from 5 to 30, 10 in 39 states (NCES 2011-603; source read)."""
    facts = example("l-nces-2011-603-facts")
    setting = THRESHOLDS["small_cell"]
    assert setting.default == facts.expects("modal")
    least, most = facts.published["min_group_range"]
    assert least <= setting.default <= most
    assert str(facts.published["states_using_modal"]) in setting.source_note
