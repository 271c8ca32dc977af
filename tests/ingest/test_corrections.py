"""Set-aside rows go back to the clerk in a spreadsheet, and come in again corrected."""

from __future__ import annotations

from pathlib import Path

from openpyxl import load_workbook

from ingest.load import Choice, release
from ingest.workspace import Workspace
from tests.ingest import door
from tests.ingest.door import evening, load_evenings, rows


def sheet_of(world: Path) -> Path:
    report = load_evenings(
        world,
        evening(),
        evening(evening_id="e007", kind="opne", minutes="abc", note="=A1"),
        evening(evening_id="e3", began_local="", hall_id="h9"),
    )
    assert report.correction_sheet is not None
    return report.correction_sheet


def test_the_sheet_says_line_reasons_and_remedy_before_the_original_cells(world: Path) -> None:
    sheet = load_workbook(sheet_of(world)).active
    head = [cell.value for cell in sheet[1]]

    assert head[:3] == ["fix_line", "fix_reasons", "fix_remedy"]
    assert head[3:] == door.HEADER.split(",")
    assert (sheet["A2"].value, sheet["A3"].value) == (3, 4)
    assert sheet["B2"].value.count("\n") >= 2
    assert sheet["D2"].value == "e007"
    assert sheet["O2"].data_type == "s"
    assert sheet.freeze_panes == "D2"
    assert sheet["A1"].fill.fgColor.rgb != sheet["D1"].fill.fgColor.rgb
    assert sheet["B2"].alignment.wrap_text


def test_the_corrected_sheet_loads_and_closes_the_held_rows(world: Path) -> None:
    path = sheet_of(world)
    book = load_workbook(path)
    sheet = book.active
    names = [cell.value for cell in sheet[1]]
    for row, cells in ((2, {"kind": "open", "minutes": 30, "note": None}), (3, {"hall_id": "h2"})):
        for name, value in cells.items():
            sheet.cell(row, names.index(name) + 1).value = value
    sheet.cell(2, names.index("began_local") + 1).value = "21:00"
    book.save(path)
    [report] = door.load(world, path)

    assert (report.accepted, report.quarantined) == (2, 0)
    assert rows(world, "select distinct status from ledger.quarantine") == [("corrected",)]
    assert rows(world, "select minutes from latest.evenings where evening_id = 'e007'") == [(30.0,)]


def test_the_sheet_loaded_as_it_is_sets_the_same_rows_aside_once(world: Path) -> None:
    path = sheet_of(world)
    [report] = door.load(world, path)

    assert (report.accepted, report.known, report.quarantined) == (0, 2, 0)
    assert [one.rule for one in report.findings] == ["still_set_aside"]
    assert report.findings[0].message.startswith("2 of these rows")
    assert rows(world, "select count(*) from ledger.quarantine") == [(2,)]


def test_rows_that_wait_keep_their_reasons_when_the_file_comes_again(world: Path) -> None:
    why = "select line_number, rule_name, message, remedy from ledger.findings order by all"
    sheet_of(world)
    before = rows(world, f"{why} limit 20")
    door.load(world, world.parent / "in" / "evenings.csv")

    assert len({line for line, *_ in before}) == 2
    assert set(before) <= set(rows(world, f"{why} limit 20"))


def test_a_person_may_release_only_what_all_its_rules_allow(world: Path) -> None:
    sheet_of(world)
    done = release(Choice(), Workspace(world), door.NOW, "the office", door.CONTRACTS)

    assert (done.released, done.landed, done.kept_held) == (1, 1, 1)
    assert rows(world, "select status, decided_by from ledger.quarantine order by line_number") == [
        ("held", None),
        ("released", "the office"),
    ]
    assert rows(world, "select hall_id from latest.evenings where evening_id = 'e3'") == [("h9",)]


def test_a_released_row_that_comes_again_is_known(world: Path) -> None:
    sheet_of(world)
    release(Choice(rule="unknown_reference"), Workspace(world), door.NOW, "x", door.CONTRACTS)
    again = load_evenings(
        world, evening(evening_id="e3", began_local="", hall_id="h9"), name="evenings-b.csv"
    )

    assert (again.known, again.quarantined) == (1, 0)
    assert rows(world, "select count(*) from feed.evenings where evening_id = 'e3'") == [(1,)]


def test_choosing_lines_of_a_file_releases_no_other(world: Path) -> None:
    load_evenings(
        world,
        *(evening(evening_id=f"e{n}", began_local=f"1{n}:00", hall_id="h9") for n in range(3)),
    )
    choice = Choice(file_name="evenings.csv", feed="evenings", lines=(3,))
    done = release(choice, Workspace(world), door.NOW, "x", door.CONTRACTS)

    assert done.released == 1
    assert rows(world, "select evening_id from latest.evenings") == [("e1",)]


def test_a_released_name_goes_to_the_names_table_only(world: Path) -> None:
    files = door.write(
        world.parent / "in",
        "singers.csv",
        "singer_id,voice,given_name,family_name\ns9,tenor,Ada,Lu\n",
    )
    [report] = door.load(world, files)

    assert report.quarantined == 1
    assert rows(world, "select count(*) from ledger.findings where message like '%Ada%'") == [(0,)]
