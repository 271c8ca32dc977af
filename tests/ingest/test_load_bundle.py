"""Records that come as one file each are checked together and told one by one."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest import bundles, load_bundle
from ingest.contracts.model import Rule
from ingest.load import load_files
from ingest.workspace import Workspace
from tests.ingest import door, records
from tests.ingest.door import rows, rules
from tests.ingest.records import looks, name_of, write, write_many


def test_forty_records_are_looked_at_once_and_each_has_its_line_in_the_ledger(
    world: Path, tmp_path: Path
) -> None:
    found, count = looks(world, write_many(tmp_path / "in", 40))

    assert count == 1
    assert {(one.status, one.received, one.accepted) for one in found.values()} == {
        ("loaded", 1, 1)
    }
    lines = rows(
        world,
        "select file_name, accepted_count, evening_id from ledger.files "
        "inner join latest.evenings using (file_hash) order by file_number",
    )
    assert lines == [(name_of(number), 1, f"e{number}") for number in range(1, 41)]


def test_a_long_row_of_records_is_looked_at_in_portions(
    world: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundles, "MOST_FILES", 15)
    found, count = looks(world, write_many(tmp_path / "in", 40))

    assert count == 3
    assert sum(one.accepted for one in found.values()) == 40
    assert list(found) == [name_of(number) for number in range(1, 41)]


def test_a_bad_record_is_told_by_its_own_name_and_holds_nobody_up(
    world: Path, tmp_path: Path
) -> None:
    paths = write_many(tmp_path / "in", 9)
    write(tmp_path / "in", 4, kind="odd")
    write(tmp_path / "in", 7, hall_id="h7")
    found, count = looks(world, paths)

    assert count == 3
    assert [one.accepted for one in found.values()] == [1, 1, 1, 0, 1, 1, 0, 1, 1]
    assert rules(found[name_of(4)]) == [("unknown_code", 2, "kind")]
    assert rules(found[name_of(7)]) == [("unknown_reference", 2, "hall_id")]
    assert rows(
        world, "select file_name, line_number, rule_names from ledger.quarantine order by all"
    ) == [(name_of(4), 2, ["unknown_code"]), (name_of(7), 2, ["unknown_reference"])]
    for number in (4, 7):
        report = found[name_of(number)]
        assert report.findings[0].remedy
        assert report.findings[0].file_name == name_of(number)
        assert report.correction_sheet is not None
        assert report.correction_sheet.is_file()


@pytest.mark.parametrize(
    ("content", "rule"),
    [
        (f"{door.HEADER}\ne5,h1\n".encode(), "short_row"),
        (f'{door.HEADER}\ne5,h1,"2026-03-02\n'.encode(), "unclosed_quote"),
        (f"{door.HEADER}\n{'e' * 70_000}\xff\n".encode("latin-1"), "wrong_encoding"),
        (b"evening_id,song\ne5,3\n", "missing_column"),
        (f"{door.HEADER}\n".encode(), "empty_file"),
    ],
)
def test_a_file_that_cannot_be_read_holds_nobody_up(
    world: Path, tmp_path: Path, content: bytes, rule: str
) -> None:
    paths = write_many(tmp_path / "in", 12)
    # With the same columns as the bad file, so that they would be read together.
    for number in range(1, 13):
        write(tmp_path / "in", number, voided="")
    paths[4].write_bytes(content)
    found = records.load(world, paths)

    assert rule in {one.rule for one in found[name_of(5)].findings}
    others = [one for name, one in found.items() if name != name_of(5)]
    assert [one.accepted for one in others] == [1] * 11
    assert found[name_of(5)].accepted == 0


def test_names_for_keys_are_refused_though_they_are_few_among_many(
    world: Path, tmp_path: Path
) -> None:
    paths = write_many(tmp_path / "in", 12)
    write(tmp_path / "in", 3, evening_id="Ottoline Quist")
    found = records.load(world, paths)

    assert (found[name_of(3)].status, found[name_of(3)].refused) == ("refused", 1)
    assert rules(found[name_of(3)]) == [("names_for_keys", None, "evening_id")]
    assert sum(one.accepted for one in found.values()) == 11
    assert rows(world, "select count(*) from store.evenings where evening_id like '%Quist%'") == [
        (0,)
    ]


def test_revisions_land_in_their_order_and_the_last_one_stands(world: Path, tmp_path: Path) -> None:
    paths = write_many(tmp_path / "in", 5)
    paths += [write(tmp_path / "in", number, revision=2, minutes="50") for number in (1, 2, 3)]
    paths += [write(tmp_path / "in", 2, revision=3, voided="true")]
    paths += [write(tmp_path / "in", 3, revision=3, minutes="55")]
    _, count = looks(world, sorted(paths))

    assert count == 4  # first ones, second ones, and two third ones with unlike columns
    assert rows(world, "select evening_id, minutes from latest.evenings order by all") == [
        ("e1", 50.0), ("e3", 55.0), ("e4", 45.0), ("e5", 45.0),
    ]  # fmt: skip
    assert rows(
        world, "select row_version, minutes from feed.evenings where evening_id = 'e3' order by 1"
    ) == [(1, 45.0), (2, 50.0), (3, 55.0)]


def test_a_later_revision_waits_for_an_earlier_one_that_goes_alone(
    world: Path, tmp_path: Path
) -> None:
    paths = write_many(tmp_path / "in", 4)
    write(tmp_path / "in", 2, minutes="abc")
    paths += [write(tmp_path / "in", number, revision=2, minutes="50") for number in (1, 2, 3)]
    found = records.load(world, sorted(paths))

    assert found[name_of(2)].quarantined == 1
    assert found[name_of(2, 2)].accepted == 1
    assert rows(world, "select file_name, status from ledger.quarantine") == [
        (name_of(2), "corrected")
    ]


def test_a_record_whose_fault_lies_with_another_is_let_in_as_if_it_came_first(
    world: Path, tmp_path: Path
) -> None:
    paths = write_many(tmp_path / "in", 6)
    write(tmp_path / "in", 5, began_local="00:02", kind="closed")
    found, _ = looks(world, paths)

    # Each file by itself has one evening at that hour, and so nothing is set aside.
    assert sum(one.accepted for one in found.values()) == 6
    assert rows(world, "select count(*) from ledger.quarantine") == [(0,)]


def test_one_thing_under_two_keys_is_set_aside_with_the_later_one(
    world: Path, tmp_path: Path
) -> None:
    paths = write_many(tmp_path / "in", 6)
    write(tmp_path / "in", 5, began_local="00:02", note="n2")
    found = records.load(world, paths)

    assert [name for name, one in found.items() if one.quarantined] == [name_of(5)]
    [told] = found[name_of(5)].findings
    assert (told.rule, told.line) == ("key_reused", 2)
    assert "The other key is e2." in told.message


def test_two_files_with_one_key_land_as_two_versions(world: Path, tmp_path: Path) -> None:
    paths = write_many(tmp_path / "in", 4)
    write(tmp_path / "in", 3, evening_id="e1", minutes="50")
    found = records.load(world, paths)

    assert sum(one.accepted for one in found.values()) == 4
    assert rows(
        world, "select minutes, row_version from latest.evenings where evening_id='e1'"
    ) == [(50.0, 2)]


def test_the_same_records_again_change_nothing(world: Path, tmp_path: Path) -> None:
    paths = write_many(tmp_path / "in", 6)
    records.load(world, paths)
    before = rows(world, "select * from feed.evenings order by all")
    again = records.load(world, [*paths, write(tmp_path / "in", 7)])

    assert [one.status for one in again.values()] == ["already_known"] * 6 + ["loaded"]
    assert rules(again[name_of(1)]) == [("duplicate_upload", None, None)]
    assert (
        rows(world, "select * from feed.evenings where evening_id <> 'e7' order by all") == before
    )


def test_the_same_rows_written_otherwise_are_known_in_their_own_files(
    world: Path, tmp_path: Path
) -> None:
    door.load_evenings(world, *(records.record(number) for number in (1, 2, 3)))
    found = records.load(world, write_many(tmp_path / "in", 4))

    assert [(one.status, one.known, one.accepted) for one in found.values()] == [
        ("already_known", 1, 0)
    ] * 3 + [("loaded", 0, 1)]


def test_a_record_that_was_held_is_let_in_by_a_bundle_that_mends_it(
    world: Path, tmp_path: Path
) -> None:
    records.load(world, [write(tmp_path / "in", 1, minutes="abc")])
    records.load(
        world, [write(tmp_path / "in", number, revision=2, minutes="50") for number in (1, 2)]
    )

    assert rows(world, "select status from ledger.quarantine") == [("corrected",)]


def test_a_warning_is_said_of_its_own_record(world: Path, tmp_path: Path) -> None:
    paths = write_many(tmp_path / "in", 5)
    write(tmp_path / "in", 3, minutes="210", hall_id="h2")
    found, count = looks(world, paths)

    assert count == 1
    assert {name: rules(one) for name, one in found.items() if one.findings} == {
        name_of(3): [("very_long_evening", 2, "minutes")]
    }
    assert found[name_of(3)].findings[0].message == "A long evening in h2."
    assert rows(
        world, "select file_name, line_number, rule_name, verdict from ledger.findings"
    ) == [(name_of(3), 2, "very_long_evening", "warn")]
    assert rows(world, "select file_name from ledger.files where warning_count = 1") == [
        (name_of(3),)
    ]


def test_other_files_go_by_themselves_at_their_turn(world: Path, tmp_path: Path) -> None:
    paths = [write(tmp_path / "in", number) for number in (1, 2)]
    first = door.write(
        tmp_path / "in", "evenings-0.csv", door.evenings(records.record(1, minutes="40"))
    )
    last = door.write(
        tmp_path / "in", "evenings.csv", door.evenings(records.record(2, minutes="9"))
    )
    _, count = looks(world, [first, *paths, last])

    assert count == 3
    assert rows(world, "select evening_id, minutes from latest.evenings order by all") == [
        ("e1", 45.0), ("e2", 9.0),
    ]  # fmt: skip


def test_what_a_bundle_stumbles_over_is_tried_by_ever_fewer_and_then_by_one(
    world: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone_alone: list[str] = []
    usual = load_bundle.load_table

    def watched(batch: load_bundle.Batch, table: load_bundle.Table) -> load_bundle.FileReport:
        gone_alone.append(table.file_name)
        return usual(batch, table)

    monkeypatch.setattr(load_bundle, "load_table", watched)
    paths = write_many(tmp_path / "in", 16)
    for number in range(1, 17):
        write(tmp_path / "in", number, voided="")
    paths[10].write_bytes(f"{door.HEADER}\ne11,h1\n".encode())
    found = records.load(world, paths)

    assert sum(one.accepted for one in found.values()) == 15
    # Its last companion has nobody left to go with.
    assert gone_alone == [name_of(11), name_of(12)]


def test_a_warning_about_no_row_is_said_once_with_the_last_file(
    world: Path, tmp_path: Path
) -> None:
    many = Rule(
        "many_evenings", "file", "warn", "person", ("kind",), "{detail} evenings in all.", "Rest.",
        "select count(*) as evening_count from incoming having count(*) > 3",
    )  # fmt: skip
    paths = write_many(tmp_path / "in", 5)
    found = load_files(
        paths, Workspace(world), door.SETTINGS, door.NOW, contracts=records.with_rule(many)
    )

    assert [len(one.findings) for one in found] == [0, 0, 0, 0, 1]
    assert found[-1].findings[0].message == "5 evenings in all."
    assert rows(world, "select file_name, line_number from ledger.findings") == [(name_of(5), None)]


def test_a_feed_with_a_rule_that_refuses_whole_files_takes_each_by_itself(
    world: Path, tmp_path: Path
) -> None:
    paths = write_many(tmp_path / "in", 4)
    write(tmp_path / "in", 2, kind="trial")
    found = door.load(world, *paths)

    assert [one.status for one in found] == ["loaded", "refused", "loaded", "loaded"]
