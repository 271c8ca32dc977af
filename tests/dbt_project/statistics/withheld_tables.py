"""Tables with margins, what the macro withholds of them, and what a reader can still work out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

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
