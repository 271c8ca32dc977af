"""One sitting of a round: the fewest turns first, the smallest new priority among those level."""

from __future__ import annotations

import pytest

from tests.dbt_project.macro_runner import macros, table

PRIME = 2**31 - 1
# Box 1, one run: child, presence (bit 1 first sitting, bit 2 second), priority, turns so far.
CHILDREN = [(1, 3, 500, 1), (2, 3, 900, 0), (3, 1, 100, 0), (4, 3, 700, 1), (5, 2, 300, 1)]


def _next(sitting: int, full: int, rest: int, last: int = 2) -> dict[int, int]:
    """Turns of each child after a sitting that gives `full` to all there and `rest` over."""
    rows = ", ".join(
        f"(1::bigint, 1, {child}, {presence}::bigint, {priority}::bigint,"
        f" {turns}::bigint, 2::bigint)"
        for child, presence, priority, turns in CHILDREN
    )
    names = "box_number, simulation, pupil_number, presence, priority, turn_count, last_sitting"
    shares = (
        f"select 1::bigint as box_number, {sitting} as sitting, {full} as full_count,"
        f" {rest} as rest_count, {last}::bigint as last_sitting"
        f" union all select 1, {3 - sitting}, 5, 0, {last}"
        f" union all select 2, {sitting}, 7, 0, {last}"
    )
    query = f"select pupil_number, turn_count from ({macros()['next_sitting']('before', sitting)})"
    found = table(query, before=f"select * from (values {rows}) t({names})", shares=shares)
    assert len(found) == len(CHILDREN)
    return dict(found)


def _new_priority(child: int, sitting: int) -> int:
    old = {number: priority for number, _, priority, _ in CHILDREN}[child]
    return pow(old * 69621 + sitting, 5, PRIME)


@pytest.mark.parametrize("sitting", [1, 2])
def test_a_child_without_a_turn_comes_before_those_with_one(sitting: int) -> None:
    there = [child for child, presence, _, _ in CHILDREN if presence & sitting]
    had = {child: turns for child, _, _, turns in CHILDREN}
    order = sorted(there, key=lambda child: (had[child], _new_priority(child, sitting)))
    for rest in range(len(there) + 1):
        expected = {child: had[child] + (child in order[:rest]) for child in had}
        assert _next(sitting, 0, rest) == expected


def test_a_full_share_goes_to_all_who_are_there_and_to_nobody_else() -> None:
    assert _next(2, 2, 0) == {1: 3, 2: 2, 3: 0, 4: 3, 5: 3}


def test_the_new_priorities_and_the_last_sitting_go_on() -> None:
    query = f"select * from ({macros()['next_sitting']('before', 1)})"
    before = (
        "select 7 as box_number, 9 as simulation, 1 as pupil_number,"
        " 1 as presence, 500::bigint as priority, 0 as turn_count, 1 as last_sitting"
    )
    shares = (
        "select 7 as box_number, 1 as sitting, 0 as full_count, 1 as rest_count, 4 as last_sitting"
    )
    assert table(query, before=before, shares=shares) == [(7, 9, 1, 1, _new_priority(1, 1), 1, 4)]


def test_a_box_that_has_ended_is_left_out() -> None:
    before = (
        "select 1 as box_number, 1 as simulation, 1 as pupil_number,"
        " 2 as presence, 5::bigint as priority, 0 as turn_count, 1 as last_sitting"
    )
    shares = (
        "select 1 as box_number, 2 as sitting, 0 as full_count, 1 as rest_count, 2 as last_sitting"
    )
    query = f"select * from ({macros()['next_sitting']('before', 2)})"
    assert table(query, before=before, shares=shares) == []
