"""The rule of cell suppression a second time, cell by cell in plain Python."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from typing import Any

from tests.dbt_project.statistics.withheld_tables import SMALL, Cell, Reasons, Table


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
