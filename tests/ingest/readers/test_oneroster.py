"""A sound set, in both versions, becomes five feeds; what is not needed is nowhere."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from ingest.contracts import load_contracts
from ingest.readers.oneroster import RosterOptions, is_oneroster, read
from ingest.readers.table import Table
from tests.ingest.readers.oneroster_sets import Files, as_changes, sound_set, write_set

VERSIONS = ["1.1", "1.2"]


def read_feeds(
    tmp_path: Path,
    files: Files,
    version: str = "1.1",
    options: RosterOptions | None = None,
    **how: Any,
) -> dict[str, Table]:
    """Write a set and read it; the tables by their feed."""
    scratch = tmp_path / "scratch"
    scratch.mkdir(exist_ok=True)
    path = write_set(tmp_path / "roster.zip", files, version, **how)
    return {table.feed: table for table in read(path, scratch, options)}


def rows_of(table: Table) -> list[dict[str, str]]:
    with table.path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def rules_of(table: Table) -> set[str]:
    return {finding.rule for finding in table.findings}


@pytest.mark.parametrize("version", VERSIONS)
def test_a_sound_set_becomes_five_feeds_without_a_refusal(tmp_path: Path, version: str) -> None:
    feeds = read_feeds(tmp_path, sound_set(version), version)
    assert {feed: len(rows_of(table)) for feed, table in feeds.items()} == {
        "schools": 1,
        "terms": 4,
        "classes": 2,
        "people": 6,
        "memberships": 5,
    }
    assert not any(table.is_refused for table in feeds.values())
    assert [table.file_name for table in feeds.values()] == [
        "roster.zip/orgs.csv",
        "roster.zip/academicSessions.csv",
        "roster.zip/classes.csv",
        "roster.zip/users.csv",
        "roster.zip/enrollments.csv",
    ]


@pytest.mark.parametrize("version", VERSIONS)
def test_the_header_of_each_table_is_the_contract_and_the_line(
    tmp_path: Path, version: str
) -> None:
    for table in read_feeds(tmp_path, sound_set(version), version).values():
        with table.path.open(encoding="utf-8", newline="") as stream:
            assert tuple(next(csv.reader(stream))) == table.header
        assert table.line_column == table.header[-1] == "line_number"


@pytest.mark.parametrize("version", VERSIONS)
def test_roles_are_ours_and_guardians_are_left_out_with_a_word(
    tmp_path: Path, version: str
) -> None:
    people = read_feeds(tmp_path, sound_set(version), version)["people"]
    roles = {row["person_id"]: row["role"] for row in rows_of(people)}
    assert roles["t1"] == "teacher"
    assert roles["a1"] == "aide"
    assert roles["l1"] == "leader"
    assert "g1" not in roles
    left_out = next(f for f in people.findings if f.rule == "oneroster_people_left_out")
    assert (left_out.count, left_out.line, left_out.verdict) == (1, 5, "warn")
    assert "guardian" in left_out.message


def test_an_aide_enrolled_as_teacher_is_an_aide_in_the_class(tmp_path: Path) -> None:
    rows = rows_of(read_feeds(tmp_path, sound_set())["memberships"])
    roles = {(row["class_id"], row["person_id"]): row["role"] for row in rows}
    assert roles["c1", "a1"] == "aide"
    assert roles["c1", "t1"] == "teacher"
    assert ("c1", "l1") not in roles


def test_only_homerooms_are_classes_unless_the_school_chooses_more(tmp_path: Path) -> None:
    table = read_feeds(tmp_path, sound_set())["classes"]
    assert [row["class_id"] for row in rows_of(table)] == ["c1", "c2"]
    assert "oneroster_class_type_left_out" in rules_of(table)
    both = RosterOptions(class_types=("homeroom", "scheduled"))
    feeds = read_feeds(tmp_path, sound_set(), options=both)
    assert [row["class_id"] for row in rows_of(feeds["classes"])] == ["c1", "c2", "c3"]
    home = {row["class_id"]: row["is_primary"] for row in rows_of(feeds["memberships"])[2:]}
    assert home == {"c1": "", "c2": "", "c3": "false"}
    assert "oneroster_class_type_left_out" not in rules_of(feeds["classes"])


def test_a_set_without_any_chosen_class_is_refused(tmp_path: Path) -> None:
    files = sound_set()
    files["classes"] = [row | {"classType": "scheduled"} for row in files["classes"]]
    table = read_feeds(tmp_path, files)["classes"]
    assert table.is_refused
    assert "oneroster_no_homerooms" in rules_of(table)


def test_grades_of_a_mixed_class_keep_their_zeros_and_a_blank_takes_the_course(
    tmp_path: Path,
) -> None:
    files = sound_set()
    files["classes"][0]["grades"] = ""
    grades = [row["grades"] for row in rows_of(read_feeds(tmp_path, files)["classes"])]
    assert grades == ["01", "KG;01"]


@pytest.mark.parametrize(
    ("extra", "pattern"),
    [
        ({}, "full_day"),
        ({"periods": "AM"}, "am"),
        ({"periods": "1,2"}, "full_day"),
        ({"metadata.sessionPattern": "pm"}, "pm"),
    ],
)
def test_the_part_of_the_day_comes_from_the_periods_or_the_extension(
    tmp_path: Path, extra: dict[str, str], pattern: str
) -> None:
    files = sound_set()
    files["classes"][0] |= extra
    rows = rows_of(read_feeds(tmp_path, files)["classes"])
    assert rows[0]["session_pattern"] == pattern


def test_a_line_break_inside_a_field_does_not_shift_the_lines_after_it(tmp_path: Path) -> None:
    files = sound_set()
    files["classes"][0]["title"] = "Willow\nby the water"
    lines = [row["line_number"] for row in rows_of(read_feeds(tmp_path, files)["classes"])]
    assert lines == ["2", "4"]


def test_an_enrolment_without_dates_has_those_of_the_sessions_of_its_class(tmp_path: Path) -> None:
    files = sound_set()
    files["classes"][0]["termSourcedIds"] = "b, c"
    files["enrollments"][2] |= {"beginDate": "", "endDate": ""}
    table = read_feeds(tmp_path, files)["memberships"]
    row = next(row for row in rows_of(table) if row["line_number"] == "4")
    assert (row["begin_on"], row["end_on"]) == ("2026-01-05", "2026-06-20")
    assert "oneroster_dates_of_class" in rules_of(table)


def test_what_is_no_date_goes_on_as_it_came(tmp_path: Path) -> None:
    files = sound_set()
    files["enrollments"][2]["endDate"] = "20/06/2026"
    files["academicSessions"][1]["endDate"] = "soon"
    feeds = read_feeds(tmp_path, files)
    assert rows_of(feeds["memberships"])[2]["end_on"] == "20/06/2026"
    assert rows_of(feeds["terms"])[1]["last_on"] == "soon"


def test_a_term_belongs_to_each_school_whose_classes_use_its_tree(tmp_path: Path) -> None:
    files = sound_set()
    files["orgs"].append({"sourcedId": "s2", "name": "Mossgate (invented)", "type": "school"})
    files["classes"][1]["schoolSourcedId"] = "s2"
    second_year = {"sourcedId": "z", "parentSourcedId": "", "title": "Unused"}
    files["academicSessions"].append(files["academicSessions"][0] | second_year)
    rows = rows_of(read_feeds(tmp_path, files)["terms"])
    assert {row["term_id"] for row in rows} == {
        f"{school}:{session}" for school in ("s1", "s2") for session in "yabcz"
    }
    assert {row["parent_term_id"] for row in rows if row["kind"] == "term"} == {"s1:y", "s2:y"}


def test_a_session_that_is_its_own_ancestor_does_not_hang_the_reader(tmp_path: Path) -> None:
    files = sound_set()
    files["academicSessions"][0]["parentSourcedId"] = "a"
    assert len(rows_of(read_feeds(tmp_path, files)["terms"])) == 4


def test_a_person_with_several_roles_has_the_primary_one(tmp_path: Path) -> None:
    files = sound_set("1.2")
    first = {"sourcedId": "r0", "userSourcedId": "t1", "orgSourcedId": "s1"}
    files["roles"].insert(0, first | {"roleType": "secondary", "role": "aide"})
    files["roles"].append(first | {"sourcedId": "r9", "roleType": "primary", "role": "principal"})
    table = read_feeds(tmp_path, files, "1.2")["people"]
    rows = [row for row in rows_of(table) if row["person_id"] == "t1"]
    assert [row["role"] for row in rows] == ["teacher"]
    assert "oneroster_several_roles" in rules_of(table)


def test_a_person_is_called_by_the_preferred_name(tmp_path: Path) -> None:
    files = sound_set("1.2")
    files["users"][4]["preferredGivenName"] = "Lia"
    rows = rows_of(read_feeds(tmp_path, files, "1.2")["people"])
    assert next(row for row in rows if row["person_id"] == "p1")["given_name"] == "Lia"


def test_a_person_with_an_unknown_role_is_taken_by_the_enrolment(tmp_path: Path) -> None:
    files = sound_set()
    files["users"][0]["role"] = "proctor"
    rows = rows_of(read_feeds(tmp_path, files)["people"])
    assert next(row for row in rows if row["person_id"] == "t1")["role"] == "teacher"


@pytest.mark.parametrize("version", VERSIONS)
def test_private_columns_reach_neither_a_table_nor_the_scratch_folder(
    tmp_path: Path, version: str
) -> None:
    read_feeds(tmp_path, sound_set(version), version)
    written = "".join(path.read_text("utf-8") for path in (tmp_path / "scratch").iterdir())
    for secret in ("open-sesame", "example.invalid", "555-01", "NATIONAL-77"):
        assert secret not in written
    assert "guardian" not in written


def test_demographics_are_not_opened(tmp_path: Path) -> None:
    damaged = {"demographics.csv": b"sourcedId\n\xff\xfe"}
    modes = {"demographics": "bulk"}
    feeds = read_feeds(tmp_path, sound_set(), texts=damaged, modes=modes)
    assert not any(table.is_refused for table in feeds.values())


def test_changes_end_memberships_and_delete_nothing(tmp_path: Path) -> None:
    files = sound_set()
    files["enrollments"] = [
        *as_changes(files["enrollments"][2:3], "tobedeleted"),
        *as_changes(files["enrollments"][3:4]),
    ]
    files["users"] = as_changes(files["users"][5:6], "tobedeleted")
    modes = {"enrollments": "delta", "users": "delta"}
    feeds = read_feeds(tmp_path, files, modes=modes)
    ends = {row["person_id"]: row["end_on"] for row in rows_of(feeds["memberships"])}
    assert ends == {"p1": "2026-03-02", "p2": "2026-02-16"}
    assert rows_of(feeds["people"]) == []
    assert "oneroster_deleted_record" in rules_of(feeds["people"])


def test_changes_alone_need_no_other_file(tmp_path: Path) -> None:
    files = {"enrollments": as_changes(sound_set()["enrollments"][2:3])}
    feeds = read_feeds(tmp_path, files, modes={"enrollments": "delta"})
    assert list(feeds) == ["memberships"]
    assert not feeds["memberships"].is_refused
    assert [row["class_id"] for row in rows_of(feeds["memberships"])] == ["c1"]


def test_sessions_alone_go_to_the_schools_already_known(tmp_path: Path) -> None:
    files = {"academicSessions": as_changes(sound_set()["academicSessions"])}
    options = RosterOptions(school_ids=("s7",))
    feeds = read_feeds(tmp_path, files, options=options, modes={"academicSessions": "delta"})
    assert {row["school_id"] for row in rows_of(feeds["terms"])} == {"s7"}


def test_a_roster_zip_is_told_from_another_zip(tmp_path: Path) -> None:
    assert is_oneroster(write_set(tmp_path / "a.zip", sound_set()))
    assert is_oneroster(write_set(tmp_path / "b.zip", sound_set(), folder="export/"))
    assert not is_oneroster(write_set(tmp_path / "c.zip", {}))
    other = tmp_path / "d.zip"
    other.write_bytes(b"PK no zip")
    assert not is_oneroster(other)


def test_every_table_has_the_columns_of_its_contract(tmp_path: Path) -> None:
    contracts = load_contracts()
    for feed, table in read_feeds(tmp_path, sound_set()).items():
        assert table.header == (*contracts[feed].field_names, "line_number")


def test_options_that_are_not_known_are_refused() -> None:
    with pytest.raises(ValueError, match="end_dates"):
        RosterOptions(end_dates="sometimes")
    with pytest.raises(ValueError, match="class_types"):
        RosterOptions(class_types=("club",))
