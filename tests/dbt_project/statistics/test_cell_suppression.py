"""Cells withheld in tables with margins: published rules, the rule itself done by hand."""

from __future__ import annotations

import pytest

from tests.check_values import example
from tests.dbt_project.linear_attack import known
from tests.dbt_project.macro_runner import macros, table
from tests.dbt_project.statistics.withheld_tables import (
    SMALL,
    Cell,
    Reasons,
    exposed,
    only_primary,
    suppressed,
    system_of,
    with_margins,
    withheld,
)


def test_the_hand_example_hides_its_three_in_a_rectangle() -> None:
    given_table = example("l-complementary-hand")  # own construction
    least = given_table.inputs["min_cell"]
    cells = with_margins(given_table.inputs["table"])
    alone = only_primary(cells, least)
    found = known(system_of(cells, alone, least), ["r0/c2"])["r0/c2"]
    assert found.is_exact
    assert found.low == given_table.expects("recoverable_if_only_primary")

    (reasons,) = suppressed([cells], least)
    assert reasons["r0", "c2"] == SMALL
    assert withheld(reasons) == {("r0", "c2"), ("r0", "c0"), ("r1", "c2"), ("r1", "c0")}
    assert exposed(cells, reasons, least) == []
    found = known(system_of(cells, reasons, least), ["r0/c2"])["r0/c2"]
    assert (found.low, found.high) == (0, least - 1)


def test_exactly_the_setting_is_shown() -> None:
    cells = with_margins([[5, 9, 8], [9, 15, 11]])
    assert withheld(suppressed([cells], 5)[0]) == set()
    assert withheld(suppressed([cells], 6)[0]) == {
        ("r0", "c0"), ("r0", "c2"), ("r1", "c0"), ("r1", "c2")
    }  # fmt: skip


def test_two_cells_a_row_and_column_do_not_hide_a_bridge() -> None:
    """Two blocks joined by one cell: each line has two unknown, and the joint is still exact."""
    cells = with_margins([[20, 21, 22, 23], [24, 3, 26, 27], [28, 29, 30, 31], [32, 33, 34, 35]])
    block = {(0, 0), (0, 1), (1, 0), (1, 1), (2, 2), (2, 3), (3, 2), (3, 3)}
    gone = {(f"r{i}", f"c{j}") for i, j in block - {(1, 1)}} | {("r1", "c1")}
    joint = ("r1", "c2")
    reasons: Reasons = {cell: SMALL if cell in gone | {joint} else None for cell in cells}
    system = system_of(cells, reasons, None)
    assert known(system, ["r1/c2"])["r1/c2"].is_exact
    assert not known(system, ["r1/c1"])["r1/c1"].is_exact


def test_a_small_margin_with_small_cells_closes_its_table() -> None:
    """Six in a row, in a two, a three and a one: no rectangle can take the six down to nothing."""
    cells = with_margins([[2, 3, 1], [40, 50, 60], [70, 80, 90]])
    (reasons,) = suppressed([cells], 10)
    assert set(reasons.values()) == {"complementary"}
    assert exposed(cells, only_primary(cells, 10), 10) != []


def test_a_line_given_as_gone_leaves_the_rest_of_its_table() -> None:
    """The same row, withheld as a whole with another: the third needs nothing."""
    cells = with_margins([[2, 3, 1], [40, 50, 60], [70, 80, 90]])
    away = [cell for cell in cells if cell[0] in ("r0", "r1")]
    query = macros()["cell_suppression"]("given", ["k"], "i", "j", "n", "why", "away", 10)
    lines = ", ".join(
        f"(1, '{i}', '{j}', {n}, null::varchar, {str((i, j) in away).lower()})"
        for (i, j), n in cells.items()
    )
    got = table(
        f"select suppressed_reason from ({query})",
        given=f"select * from (values {lines}) v(k, i, j, n, why, away)",
    )
    assert {reason for (reason,) in got} == {None}


def test_small_cells_do_not_hide_one_another() -> None:
    """9 and 9 add up to 18; with both known to be under ten there is nothing left to guess."""
    cells = with_margins([[9, 9, 40, 50], [60, 70, 80, 90]])
    assert known(system_of(cells, only_primary(cells, 10), 10), ["r0/c0"])["r0/c0"].is_exact
    (reasons,) = suppressed([cells], 10)
    assert ("r0", "c2") in withheld(reasons)
    assert exposed(cells, reasons, 10) == []


def test_where_no_rectangle_is_wide_enough_no_reason_tells_a_size() -> None:
    """Nine among tens: whoever knows that the others are ten or more knows them all."""
    cells = with_margins([[9, 10], [10, 10]])
    (reasons,) = suppressed([cells], 10)
    inside = {cell for cell in cells if "*" not in cell}
    assert withheld(reasons) == inside
    assert {reasons[cell] for cell in inside} == {"complementary"}
    assert exposed(cells, reasons, 10) == []


def test_a_table_that_can_hide_nothing_is_not_shown() -> None:
    cells = with_margins([[3, 0], [0, 0]])
    (reasons,) = suppressed([cells], 10)
    assert withheld(reasons) == set(cells)
    assert set(reasons.values()) == {"complementary"}


def test_a_column_withheld_anyway_costs_nothing_more() -> None:
    rows = [[50, 3, 40, 60], [51, 30, 41, 61], [52, 31, 42, 62]]
    cells = with_margins(rows)
    away = [(f"r{i}", "c3") for i in range(3)]
    (reasons,) = suppressed([cells], 10, gone=[away])
    assert {reasons[cell] for cell in away} == {None, "complementary"}
    assert {cell for cell in withheld(reasons) if cell not in away} == {("r0", "c1"), ("r1", "c1")}


def test_counts_that_are_no_people_hide_a_fifth_more_or_less() -> None:
    """Nine looks beside 1, 2 and 40: one cannot take the fifth of nine, two can."""
    cells = with_margins([[9, 1, 40, 2], [30, 31, 32, 33], [34, 3, 36, 37]])
    marks: dict[Cell, str] = {("r0", "c0"): "few_classes"}
    (reasons,) = suppressed([cells], None, marked=[marks])
    assert reasons["r0", "c0"] == "few_classes"
    assert withheld(reasons) == {("r0", "c0"), ("r0", "c3"), ("r1", "c0"), ("r1", "c3")}
    found = known(system_of(cells, reasons, None), ["r0/c0"])["r0/c0"]
    assert found.low <= 9 - 9 / 5
    assert found.high == 11


def test_a_count_too_large_for_its_table_need_move_by_one() -> None:
    """Beside 90 there are only small counts; each still leaves open which of some it is."""
    cells = with_margins([[90, 5], [6, 7]])
    marks: dict[Cell, str] = {("r0", "c0"): "few_classes"}
    (reasons,) = suppressed([cells], None, marked=[marks], keeps_margins=True)
    assert withheld(reasons) == {cell for cell in cells if "*" not in cell}
    assert reasons["r0", "c0"] == "few_classes"
    found = known(system_of(cells, reasons, None), ["r0/c0"])["r0/c0"]
    assert (found.low, found.high) == (83, 95)


def test_a_count_with_nothing_beside_it_closes_the_inside_of_its_table() -> None:
    cells = with_margins([[90, 0, 4], [0, 0, 0]])
    marks: dict[Cell, str] = {("r0", "c0"): "few_classes"}
    (reasons,) = suppressed([cells], None, marked=[marks], keeps_margins=True)
    assert {reasons[cell] for cell in cells if "*" not in cell} == {"complementary"}
    assert {reasons[cell] for cell in cells if "*" in cell} == {None}


@pytest.mark.parametrize("least", [3, 10])
def test_a_table_without_a_small_cell_is_shown_whole(least: int) -> None:
    cells = with_margins([[10, 20], [30, 40]])
    assert withheld(suppressed([cells], least)[0]) == set()


def test_an_unknown_count_is_shown_as_it_is_and_hides_nothing() -> None:
    query = macros()["cell_suppression"]("given", ["k"], "i", "j", "n", "why", "away", 10)
    lines = (
        "(1, 'a', 'x', 3, 'small_cell', false), (1, 'a', 'y', null, null, null),"
        " (1, 'b', 'x', 30, null, null), (1, 'b', 'y', 40, null, false)"
    )
    got = table(
        f"select i, j, suppressed_reason from ({query}) order by 1, 2",
        given=f"select * from (values {lines}) v(k, i, j, n, why, away)",
    )
    assert [reason for _, _, reason in got] == ["complementary"] * 4
