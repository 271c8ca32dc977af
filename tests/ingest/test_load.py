"""Files through the door: landed once, counted always, told to a clerk."""

from __future__ import annotations

from pathlib import Path

import duckdb
import pytest

from ingest.contracts import load_contracts
from ingest.errors import Problem
from ingest.ledger import Counts
from ingest.load import load_files
from ingest.workspace import Workspace
from tests.ingest import door
from tests.ingest.door import evening, load_evenings, rows, rules


def test_a_good_row_lands_typed_with_its_lineage(world: Path) -> None:
    report = load_evenings(world, evening())

    assert (report.status, report.received, report.accepted) == ("loaded", 1, 1)
    [row] = rows(
        world,
        "select evening_id, held_on::varchar, began_local::varchar, minutes, song_count, kind, "
        "written_at::varchar, was_wet, note, voided, file_hash, row_version from latest.evenings",
    )
    assert row == (
        "e1", "2026-03-02", "18:00:00", 45.0, 7, "open", "2026-03-02 20:00:00+00", False, None,
        None, report.file_hash, 1,
    )  # fmt: skip


def test_every_reason_of_a_row_is_told_not_only_the_first(world: Path) -> None:
    bad = evening(evening_id="e2", minutes="abc", song_count="31", kind="opne", note="=A1")
    report = load_evenings(world, evening(), bad)

    assert (report.accepted, report.quarantined) == (1, 1)
    assert set(rules(report)) == {
        ("not_a_number", 3, "minutes"),
        ("too_large", 3, "song_count"),
        ("unknown_code", 3, "kind"),
        ("formula_in_cell", 3, "note"),
        ("songs_without_minutes", 3, "song_count"),
    }
    [kind] = [one for one in report.findings if one.rule == "unknown_code"]
    assert "The nearest is open." in kind.message
    assert kind.value == "opne"


def test_the_same_file_twice_changes_nothing(world: Path) -> None:
    lines = (evening(), evening(evening_id="e2", kind="odd", began_local="19:00"))
    load_evenings(world, *lines)
    before = rows(world, "select * exclude (received_at) from feed.evenings")
    held = rows(world, "select * from ledger.quarantine")
    again = load_evenings(world, *lines)

    assert (again.status, again.known, again.quarantined) == ("already_known", 2, 0)
    assert rows(world, "select * exclude (received_at) from feed.evenings") == before
    assert rows(world, "select * from ledger.quarantine") == held


def test_the_same_rows_in_another_file_are_known(world: Path) -> None:
    load_evenings(world, evening())
    more = load_evenings(
        world, evening(evening_id="e2", began_local="19:00"), evening(), name="evenings (2).csv"
    )

    assert (more.status, more.accepted, more.known) == ("loaded", 1, 1)
    assert rows(world, "select count(*) from feed.evenings") == [(2,)]


def test_a_row_written_another_way_is_the_same_row(world: Path) -> None:
    load_evenings(world, evening())
    again = load_evenings(
        world,
        evening(began_local="18:00:00", minutes="45.0", was_wet="FALSE"),
        name="evenings2.csv",
    )

    assert (again.status, again.known) == ("already_known", 1)


def test_a_changed_row_becomes_a_new_version_and_the_old_one_stays(world: Path) -> None:
    load_evenings(world, evening())
    changed = load_evenings(world, evening(minutes="50"), name="evenings-2.csv")

    assert changed.accepted == 1
    assert rows(world, "select minutes, row_version from latest.evenings") == [(50.0, 2)]
    assert rows(world, "select minutes from feed.evenings order by row_version") == [
        (45.0,),
        (50.0,),
    ]


def test_a_row_changed_back_by_a_later_file_is_a_third_version(world: Path) -> None:
    load_evenings(world, evening(minutes="45"))
    load_evenings(world, evening(minutes="50"))
    load_evenings(world, evening(minutes="45"), evening(evening_id="e2", began_local="19:00"))

    query = "select minutes, row_version from latest.evenings where evening_id = 'e1'"
    assert rows(world, query) == [(45.0, 3)]


def test_the_very_same_file_sent_late_does_not_bring_back_what_was_corrected(world: Path) -> None:
    load_evenings(world, evening(minutes="45"))
    load_evenings(world, evening(minutes="50"))
    late = load_evenings(world, evening(minutes="45"))

    assert (late.status, late.findings[0].rule) == ("already_known", "duplicate_upload")
    assert rows(world, "select minutes from latest.evenings") == [(50.0,)]


def test_a_voided_row_leaves_the_latest_and_stays_in_the_feed(world: Path) -> None:
    load_evenings(world, evening(), evening(evening_id="e2", began_local="19:00"))
    load_evenings(world, evening(voided="true"), name="evenings-void.csv")

    assert rows(world, "select evening_id from latest.evenings") == [("e2",)]
    assert rows(world, "select count(*) from feed.evenings") == [(3,)]


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_a_row_taken_back_in_its_own_file_is_voided_wherever_it_stands(
    world: Path, order: tuple[int, int]
) -> None:
    both = (evening(), evening(voided="true"))
    report = load_evenings(world, *(both[one] for one in order))

    assert (report.accepted, report.quarantined) == (2, 0)
    assert rows(world, "select count(*) from latest.evenings") == [(0,)]


def test_copies_within_a_file_land_once_and_contradictions_not_at_all(world: Path) -> None:
    report = load_evenings(
        world,
        evening(),
        evening(),
        evening(evening_id="e2", began_local="19:00"),
        evening(evening_id="e2", began_local="20:00"),
    )

    assert (report.accepted, report.known, report.quarantined) == (1, 1, 2)
    assert [one.rule for one in report.findings] == ["duplicate_key"]
    assert report.findings[0].count == 2


def test_one_thing_under_two_keys_is_set_aside_and_may_be_released(world: Path) -> None:
    report = load_evenings(world, evening(began_local=""), evening(evening_id="e2", began_local=""))

    assert rules(report) == [("key_reused", 3, "evening_id")]
    assert "e1" in report.findings[0].message
    assert rows(world, "select can_release from ledger.quarantine") == [(True,)]


def test_a_reference_is_found_whatever_the_order_of_the_files(tmp_path: Path) -> None:
    files = [
        door.write(tmp_path / "in", "evenings.csv", door.evenings(evening())),
        door.write(tmp_path / "in", "singers.csv", door.SINGERS),
        door.write(tmp_path / "in", "halls.csv", door.HALLS),
    ]
    reports = door.load(tmp_path / "ws", *files)

    assert [one.feed for one in reports] == ["singers", "halls", "evenings"]
    assert [one.quarantined for one in reports] == [0, 0, 0]


@pytest.mark.parametrize(
    ("cells", "rule", "hint"),
    [
        ({"hall_id": "h9"}, "unknown_reference", ""),
        ({"hall_id": "H1"}, "space_or_case_in_key", "h1"),
        ({"hall_id": "h1 "}, "space_or_case_in_key", ""),
        ({"led_by": "s1;s7"}, "unknown_reference", ""),
    ],
)
def test_a_key_that_was_never_sent_sets_the_row_aside(
    world: Path, cells: dict[str, str], rule: str, hint: str
) -> None:
    report = load_evenings(world, evening(**cells))

    assert [one.rule for one in report.findings] == [rule]
    assert hint in report.findings[0].message


def test_a_lost_zero_in_a_reference_is_told_apart(world: Path) -> None:
    door.load(world, door.write(world.parent / "in", "halls.csv", "hall_id,name\n007,Old\n"))
    report = load_evenings(world, evening(hall_id="7"))

    assert rules(report) == [("leading_zero_lost", 2, "hall_id")]
    assert "007" in report.findings[0].message


def test_names_stand_in_the_names_table_and_nowhere_else_in_the_feed(world: Path) -> None:
    columns = rows(
        world,
        "select table_schema, column_name from information_schema.columns "
        "where table_name = 'singers' and column_name in ('given_name', 'family_name')",
    )

    assert {schema for schema, _ in columns} == {"names", "latest_names"}
    assert rows(world, "select given_name from latest_names.singers order by 1") == [
        ("Bram",),
        ("Ottoline",),
    ]


def test_a_changed_name_alone_is_a_new_version(world: Path) -> None:
    text = door.SINGERS.replace("Quist", "Quist-Vael")
    [report] = door.load(world, door.write(world.parent / "in", "singers.csv", text))

    assert (report.accepted, report.known) == (1, 1)
    query = "select singer_id, family_name, row_version from latest_names.singers order by 1"
    assert rows(world, query) == [("s1", "Quist-Vael", 2), ("s2", "Vael", 1)]
    assert rows(world, "select count(*) from latest.singers") == [(2,)]


def test_checking_says_the_same_as_loading_and_keeps_nothing(world: Path) -> None:
    path = door.write(
        world.parent / "in",
        "evenings.csv",
        door.evenings(evening(), evening(evening_id="e2", kind="x")),
    )
    before = (world / "landing.duckdb").read_bytes()
    [checked] = door.check(world, path)
    assert (world / "landing.duckdb").read_bytes() == before
    [loaded] = door.load(world, path)

    assert checked.findings == loaded.findings
    assert (checked.accepted, checked.quarantined) == (loaded.accepted, loaded.quarantined)
    assert checked.correction_sheet is None
    assert not list(world.glob(".reading-*"))


def test_counts_that_do_not_add_up_are_stopped_in_code_and_in_the_database(world: Path) -> None:
    with pytest.raises(Problem, match="do not add up"):
        Counts(received=3, accepted=1, known=1)
    with (
        duckdb.connect(str(world / "landing.duckdb")) as con,
        pytest.raises(duckdb.ConstraintException),
    ):
        con.execute(
            "insert into ledger.files select max(file_number) + 1, 'x', 'x', 'halls', "
            "max(received_at), '1', 'loaded', 5, 1, 0, 0, 0, 0 from ledger.files"
        )


def test_a_naive_moment_is_refused(world: Path) -> None:
    naive = door.NOW.replace(tzinfo=None)
    with pytest.raises(Problem, match="no time zone"):
        load_files([], Workspace(world), door.SETTINGS, naive, contracts=door.CONTRACTS)


def test_the_latest_rows_can_be_read_through_an_attached_store(world: Path) -> None:
    load_evenings(world, evening())
    with duckdb.connect() as con:
        con.execute(f"attach '{world / 'landing.duckdb'}' as landing (read_only)")
        assert con.execute("select count(*) from landing.latest.evenings").fetchone() == (1,)


def test_every_real_feed_gets_its_tables(tmp_path: Path) -> None:
    load_files([], Workspace(tmp_path), door.SETTINGS, door.NOW)
    found = rows(tmp_path, "select view_name from duckdb_views() where schema_name = 'latest'")

    assert {one for (one,) in found} == set(load_contracts())
