"""Spreadsheets become the text that they show."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from pathlib import Path

from openpyxl import Workbook

from ingest.readers import ReadOptions, Table, read
from tests.ingest import door


def book(path: Path, *sheets: tuple[str, list[list[object]]]) -> list[Table]:
    workbook = Workbook()
    workbook.remove(workbook.active)
    for title, lines in sheets:
        sheet = workbook.create_sheet(title)
        for line in lines:
            sheet.append(line)
    workbook.save(path)
    return read(path, path.parent, ReadOptions(contracts=door.CONTRACTS))


HEAD = list(door.HEADER.split(","))


def row(**cells: object) -> list[object]:
    return list({**door.GOOD, **cells}.values())


def test_typed_cells_come_out_as_a_school_would_write_them(tmp_path: Path) -> None:
    typed = row(
        evening_id="007", held_on=date(2026, 3, 2), began_local=time(18, 5), minutes=45.0,
        song_count=7, was_wet=True, note=timedelta(hours=30, minutes=5),
        written_at=datetime.combine(date(2026, 3, 2), time(20, 15)),
    )  # fmt: skip
    [table] = book(tmp_path / "evenings.xlsx", ("Sheet1", [HEAD, typed]))

    cells = table.path.read_text(encoding="utf-8").splitlines()[1].split(",")
    assert cells == [
        "007", "h1", "2026-03-02", "18:05:00", "45", "7", "open", "s1", "KG",
        "2026-03-02T20:15:00", "true", "30:05:00", "", "2",
    ]  # fmt: skip
    assert table.line_column == table.header[-1]


def test_a_sheet_loads_with_the_line_numbers_that_the_clerk_sees(world: Path) -> None:
    path = world.parent / "evenings.xlsx"
    lines: list[list[object]] = [HEAD, row(), [], [], row(evening_id="e2", kind="opne")]
    book(path, ("Sheet1", lines))
    [report] = door.load(world, path)

    assert (report.received, report.accepted) == (2, 1)
    assert door.rules(report) == [("unknown_code", 5, "kind")]


def test_a_formula_is_found_where_it_stands(world: Path) -> None:
    path = world.parent / "evenings.xlsx"
    book(path, ("Sheet1", [HEAD, row(minutes="=40+5"), row(evening_id="e2", began_local="19:00")]))
    [report] = door.load(world, path)

    assert door.rules(report)[0] == ("formula_in_cell", 2, "minutes")
    assert report.accepted == 1


def test_several_tables_in_one_book_load_in_the_order_they_need(tmp_path: Path) -> None:
    path = tmp_path / "term.xlsx"
    halls = ("halls", [["hall_id", "name"], ["h1", "North"]])
    notes = ("Read me", [["These are the evenings of spring"]])
    tables = book(path, ("evenings", [HEAD, row(led_by=None)]), notes, halls)
    reports = door.load(tmp_path / "ws", path)

    assert [one.file_name for one in tables] == ["term.xlsx/evenings", "term.xlsx/halls"]
    assert [(one.feed, one.accepted) for one in reports] == [("halls", 1), ("evenings", 1)]


def test_a_book_that_is_none_is_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "evenings.xlsx"
    path.write_bytes(b"not a book at all")
    [table] = read(path, tmp_path, ReadOptions(contracts=door.CONTRACTS))

    assert [one.rule for one in table.findings] == ["unreadable_file"]
