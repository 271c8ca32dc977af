"""What the door says of a file or row that cannot be taken as it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.ingest import door
from tests.ingest.door import evening, load_evenings, rows, rules


def test_a_refused_file_keeps_no_row_and_counts_them_all(world: Path) -> None:
    trials = [evening(evening_id=f"t{n}", began_local=f"1{n}:00", kind="trial") for n in range(5)]
    report = load_evenings(world, *trials)

    assert (report.status, report.received, report.refused) == ("refused", 5, 5)
    assert [one.rule for one in report.findings] == ["too_many_trials"]
    assert rows(world, "select count(*) from store.evenings") == [(0,)]


def test_a_file_refused_before_its_references_came_is_looked_at_again(tmp_path: Path) -> None:
    first = load_evenings(tmp_path / "ws", evening(led_by=""))
    door.load(tmp_path / "ws", door.write(tmp_path / "in", "halls.csv", door.HALLS))
    again = load_evenings(tmp_path / "ws", evening(led_by=""))

    assert (first.quarantined, again.accepted) == (1, 1)
    assert rows(tmp_path / "ws", "select status from ledger.quarantine") == [("corrected",)]


def test_a_warning_lets_the_row_in_and_names_its_cell(world: Path) -> None:
    report = load_evenings(world, evening(minutes="210"))

    assert (report.accepted, report.quarantined) == (1, 0)
    assert report.findings[0].message == "A long evening in h1."
    assert rows(world, "select warning_count from ledger.files where feed = 'evenings'") == [(1,)]


def test_a_rule_across_rows_names_the_line_and_its_detail(world: Path) -> None:
    report = load_evenings(world, evening(), evening(evening_id="e2", minutes="30"))

    assert rules(report) == [("two_evenings_at_once", 3, "began_local")]
    assert report.findings[0].message == "Another evening began at the same time, e1."


def test_line_numbers_hold_behind_rows_that_were_set_aside(world: Path) -> None:
    lines = [
        evening(evening_id=f"e{n}", began_local="", minutes=str(n % 200 + 1)) for n in range(9)
    ]
    lines[2] = evening(evening_id="e2", minutes="x", song_count="")
    lines[7] = evening(evening_id="e7", hall_id="h9", began_local="")
    report = load_evenings(world, *lines)

    assert set(rules(report)) == {
        ("not_a_number", 4, "minutes"),
        ("unknown_reference", 9, "hall_id"),
    }


def test_short_and_long_rows_are_set_aside_and_the_others_land(world: Path) -> None:
    report = load_evenings(world, evening(), "e2,h1", evening(evening_id="e3", note="a") + ",x,y")

    assert (report.accepted, report.quarantined) == (1, 2)
    assert rules(report) == [("short_row", 3, None), ("long_row", 4, None)]


@pytest.mark.parametrize(
    ("date", "is_refused"), [("31/03/2026", True), ("2026-31-03", True), ("03.31.2026", True)]
)
def test_a_file_with_day_and_month_swapped_throughout_is_refused(
    world: Path, date: str, is_refused: bool
) -> None:
    report = load_evenings(world, evening(held_on=date), evening(evening_id="e2", held_on=date))

    assert (report.status == "refused") is is_refused
    assert report.findings[0].rule == "date_order_swapped"


def test_one_odd_date_among_good_ones_is_only_set_aside(world: Path) -> None:
    good = [evening(evening_id=f"e{n}", held_on=f"2026-03-{n:02d}") for n in range(2, 9)]
    report = load_evenings(world, *good, evening(evening_id="e99", held_on="2026-31-03"))

    assert (report.status, report.quarantined) == ("loaded", 1)


def test_people_in_a_key_column_refuse_the_file_but_rooms_do_not(world: Path) -> None:
    names = [evening(hall_id=name) for name in ("Ada Lund", "Bo Quist-Vael")]
    rooms = [evening(evening_id="e1", hall_id="Room 3"), evening(evening_id="e2", hall_id="Room 4")]

    refused = load_evenings(world, *names)
    assert (refused.status, refused.findings[0].rule) == ("refused", "names_for_keys")
    assert load_evenings(world, *rooms, name="evenings2.csv").status == "loaded"


def test_a_day_still_to_come_is_set_aside(world: Path) -> None:
    assert rules(load_evenings(world, evening(held_on="2026-05-16"))) == [
        ("future_date", 2, "held_on")
    ]
