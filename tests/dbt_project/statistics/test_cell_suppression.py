"""Cells withheld in tables with margins: published rules, the rule itself done by hand, attacks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.check_values import example
from tests.dbt_project.linear_attack import System, known
from tests.dbt_project.macro_runner import macros, table

Cell = tuple[str, str]
Table = Mapping[Cell, float]
Reasons = dict[Cell, str | None]

SMALL = "small_cell"


def with_margins(rows: Sequence[Sequence[float]]) -> dict[Cell, float]:
    """The inside of a table and its margins; rows are r0, r1 ..., columns c0, c1 ..."""
    cells = {(f"r{i}", f"c{j}"): n for i, row in enumerate(rows) for j, n in enumerate(row)}
    for (row, column), count in list(cells.items()):
        for margin in ((row, "*"), ("*", column), ("*", "*")):
            cells[margin] = cells.get(margin, 0.0) + count
    return cells


def suppressed(
    tables: Sequence[Table],
    least: int | None,
    marked: Sequence[Mapping[Cell, str]] = (),
    gone: Sequence[Sequence[Cell]] = (),
    keeps_margins: bool = False,
) -> list[Reasons]:
    """What the macro withholds of each table; people: a cell under `least` is small."""
    lines = []
    for number, cells in enumerate(tables):
        own = marked[number] if marked else {}
        away = gone[number] if gone else ()
        for (row, column), count in cells.items():
            reason = own.get((row, column)) or (SMALL if least and count < least else None)
            text = f"'{reason}'" if reason else "cast(null as varchar)"
            is_gone = str((row, column) in away).lower()
            lines.append(f"({number}, '{row}', '{column}', {count}, {text}, {is_gone})")
    given_cells = f"select * from (values {', '.join(lines)}) v(place, i, j, people, why, away)"
    query = macros()["cell_suppression"](
        "given", ["place"], "i", "j", "people", "why", "away", least, keeps_margins
    )
    found: list[Reasons] = [{} for _ in tables]
    for place, row, column, reason in table(f"select * from ({query})", given=given_cells):
        found[place][row, column] = reason
    return found


def withheld(reasons: Reasons) -> set[Cell]:
    return {cell for cell, reason in reasons.items() if reason}


def system_of(cells: Table, reasons: Reasons, least: int | None) -> System:
    """What is published of one table, and what its reasons tell of the sizes."""
    system = System()
    for cell, count in cells.items():
        name = "/".join(cell)
        if reasons[cell] is None:
            system.publish(name, count)
        elif least and reasons[cell] == SMALL:
            system.bound(name, 0, least - 1)
        elif least and SMALL in reasons.values():
            system.bound(name, least, float("inf"))
        else:
            system.bound(name, 0, float("inf"))
    rows, columns = ({cell[side] for cell in cells} for side in (0, 1))
    for row in rows:
        system.adds_up([f"{row}/{column}" for column in columns - {"*"}], f"{row}/*")
    for column in columns:
        system.adds_up([f"{row}/{column}" for row in rows - {"*"}], f"*/{column}")
    return system


def exposed(cells: Table, reasons: Reasons, least: int) -> list[Cell]:
    """Small cells of which the system says more than that they are small."""
    small = [cell for cell, count in cells.items() if count < least]
    found = known(system_of(cells, reasons, least), ["/".join(cell) for cell in small])
    return [
        cell
        for cell in small
        if found["/".join(cell)].low > 1e-6 or found["/".join(cell)].high < least - 1 - 1e-6
    ]


def only_primary(cells: Table, least: int) -> Reasons:
    return {cell: SMALL if count < least else None for cell, count in cells.items()}


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


def by_hand(cells: Table, least: int, keeps_margins: bool) -> Reasons:
    """The rule of the macro, cell by cell and in plain words, for one table of people."""
    small = {cell for cell, count in cells.items() if count < least}
    sign = {cell: (-1 if cell[0] == "*" else 1, -1 if cell[1] == "*" else 1) for cell in cells}
    along: set[Cell] = set()
    all_wide, all_open = True, True
    for cell in sorted(small):
        best = min(
            (
                choice
                for other in product(
                    sorted({row for row, _ in cells} - {cell[0]}),
                    sorted({column for _, column in cells} - {cell[1]}),
                )
                if (choice := _rectangle(cell, other, cells, small, sign, least)) is not None
                and not (keeps_margins and choice[0])
            ),
            default=None,
        )
        if best is None:
            all_open = False
            continue
        all_wide = all_wide and best[1] == 0
        along |= set(best[-1])
    gone = small | along
    if not all_open:
        gone |= {cell for cell in cells if not (keeps_margins and "*" in cell)}
    tells = small if all_wide and all_open else set()
    return {
        cell: SMALL if cell in tells else "complementary" if cell in gone else None
        for cell in cells
    }


def _rectangle(
    cell: Cell,
    other: Cell,
    cells: Table,
    small: set[Cell],
    sign: Mapping[Cell, tuple[int, int]],
    least: int,
) -> tuple[Any, ...] | None:
    beside, below, across = (cell[0], other[1]), (other[0], cell[1]), other
    rise, fall = least - 1 - cells[cell], cells[cell]
    way = {
        beside: -sign[cell][1] * sign[beside][1],
        below: -sign[cell][0] * sign[below][0],
        across: sign[cell][0] * sign[below][0] * sign[cell][1] * sign[beside][1],
    }
    up = {corner: rise if way[corner] == 1 else fall for corner in way}
    down = {corner: fall if way[corner] == 1 else rise for corner in way}
    is_wide = all(
        cells[corner] - down[corner] >= (0 if corner in small else least)
        and (corner not in small or cells[corner] + up[corner] <= least - 1)
        for corner in way
    )
    if not is_wide and any(cells[corner] < down[corner] for corner in way):
        return None
    new = [corner for corner in way if corner not in small]
    margins = sum("*" in corner for corner in new)
    return (
        margins, 0 if is_wide else 1, len(new), sum(cells[corner] for corner in new), *other,
        tuple(way),
    )  # fmt: skip


COUNTS = st.one_of(st.integers(0, 14), st.integers(0, 60))


@st.composite
def tables_of_people(draw: st.DrawFn) -> dict[Cell, float]:
    rows, columns = draw(st.integers(2, 4)), draw(st.integers(2, 5))
    return with_margins([[draw(COUNTS) for _ in range(columns)] for _ in range(rows)])


@settings(deadline=None, max_examples=12)
@given(st.lists(tables_of_people(), min_size=6, max_size=10), st.sampled_from([3, 5, 10]))
def test_no_small_cell_is_given_away_whatever_the_table(
    tables: list[dict[Cell, float]], least: int
) -> None:
    for cells, reasons in zip(tables, suppressed(tables, least), strict=True):
        assert exposed(cells, reasons, least) == []
        assert all(reasons[cell] for cell, count in cells.items() if count < least)


@settings(deadline=None, max_examples=25)
@given(st.lists(tables_of_people(), min_size=12, max_size=20), st.booleans())
def test_the_macro_does_what_its_rule_says(
    tables: list[dict[Cell, float]], keeps_margins: bool
) -> None:
    found = suppressed(tables, 10, keeps_margins=keeps_margins)
    for cells, reasons in zip(tables, found, strict=True):
        assert reasons == by_hand(cells, 10, keeps_margins)


def test_primary_withholding_alone_is_seen_through_most_of_the_time() -> None:
    """The attack is no formality: without company it finds what is hidden."""
    tables = [
        with_margins([[n % 8, 20 + n, 31], [40, 22 + n % 5, 35], [26, 43, 29]]) for n in range(8)
    ]
    for cells, reasons in zip(tables, suppressed(tables, 10), strict=True):
        assert exposed(cells, only_primary(cells, 10), 10) == [("r0", "c0")]
        assert exposed(cells, reasons, 10) == []
