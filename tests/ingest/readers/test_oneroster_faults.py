"""Each fault of a OneRoster set: the verdict, the place, and what to ask the exporter for."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from ingest.readers.oneroster import RosterOptions, read
from tests.ingest.readers.oneroster_read import findings_of, without
from tests.ingest.readers.oneroster_sets import as_changes, sound_set, text_of, write_set


@pytest.mark.parametrize(
    ("manifest", "rule"),
    [
        ("name,value\noneroster.version,1.1\n", "oneroster_manifest_invalid"),
        ("propertyName,value\nmanifest.version,1.0\n", "oneroster_version_unknown"),
        (
            "propertyName,value\nmanifest.version,1.0\noneroster.version,1.0\n",
            "oneroster_version_unknown",
        ),
        (
            "propertyName,value\nmanifest.version,2.0\noneroster.version,1.1\n",
            "oneroster_version_unknown",
        ),
        (
            "propertyName,value\nmanifest.version,1.0\noneroster.version,1.1\nfile.users,full\n",
            "oneroster_manifest_invalid",
        ),
        (
            "propertyName,value\nmanifest.version,1.0\noneroster.version,1.1\n"
            "file.users,bulk\nfile.users,delta\n",
            "oneroster_manifest_invalid",
        ),
        (
            "propertyName,value\nmanifest.version,1.0\noneroster.version,1.1,x\n",
            "oneroster_manifest_invalid",
        ),
    ],
)
def test_a_manifest_that_cannot_be_trusted_refuses_the_set(
    tmp_path: Path, manifest: str, rule: str
) -> None:
    finding = findings_of(tmp_path, manifest=manifest)[rule]
    assert finding.verdict == "refuse"
    assert finding.file_name == "roster.zip/manifest.csv"
    assert finding.remedy


def test_a_set_without_a_manifest_is_refused(tmp_path: Path) -> None:
    path = write_set(tmp_path / "roster.zip", sound_set(), texts={"other.csv": "a\n"})
    bare = tmp_path / "bare.zip"
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(bare, "w") as target:
        for name in source.namelist():
            if name != "manifest.csv":
                target.writestr(name, source.read(name))
    (table,) = read(bare, tmp_path, RosterOptions())
    assert [finding.rule for finding in table.findings] == ["oneroster_manifest_missing"]
    assert table.is_refused


def test_a_file_that_the_manifest_promises_must_be_there(tmp_path: Path) -> None:
    finding = findings_of(tmp_path, modes={"demographics": "bulk"})["oneroster_manifest_disagrees"]
    assert finding.verdict == "refuse"
    assert "demographics.csv is not in the zip" in finding.message


def test_a_file_that_the_manifest_calls_absent_is_not_read(tmp_path: Path) -> None:
    finding = findings_of(tmp_path, modes={"courses": "absent"})["oneroster_manifest_disagrees"]
    assert finding.verdict == "warn"
    assert "courses" in finding.message


@pytest.mark.parametrize("file", ["orgs", "academicSessions", "classes", "users", "enrollments"])
def test_a_complete_roster_needs_its_five_files(tmp_path: Path, file: str) -> None:
    files = sound_set()
    del files[file]
    finding = findings_of(tmp_path, files)["oneroster_file_missing"]
    assert finding.verdict == "refuse"
    assert f"{file}.csv" in finding.message


def test_a_complete_roster_of_1_2_needs_roles_as_well(tmp_path: Path) -> None:
    files = sound_set("1.2")
    del files["roles"]
    assert "roles.csv" in findings_of(tmp_path, files, "1.2")["oneroster_file_missing"].message


def test_files_in_a_folder_are_read_with_a_warning(tmp_path: Path) -> None:
    finding = findings_of(tmp_path, folder="export/")["oneroster_not_at_top"]
    assert finding.verdict == "warn"
    assert finding.file_name.startswith("roster.zip/export/")


def test_another_spelling_of_a_file_name_is_read_with_a_warning(tmp_path: Path) -> None:
    files = sound_set()
    text = text_of("users", files.pop("users"))
    found = findings_of(tmp_path, files, modes={"users": "bulk"}, texts={"Users.csv": text})
    assert found["oneroster_file_spelling"].verdict == "warn"
    assert "oneroster_manifest_disagrees" not in found


def test_one_file_twice_in_a_zip_is_refused(tmp_path: Path) -> None:
    text = text_of("users", sound_set()["users"])
    found = findings_of(tmp_path, texts={"copy/users.csv": text})
    assert found["oneroster_file_twice"].verdict == "refuse"


@pytest.mark.parametrize(
    ("rule", "line", "spoil"),
    [
        ("short_row", 4, lambda lines: [*lines[:3], "e3,,,c1", *lines[4:]]),
        ("long_row", 3, lambda lines: [*lines[:2], lines[2] + ",,", *lines[3:]]),
        ("unclosed_quote", 6, lambda lines: [*lines[:5], 'e5,,,"c2,s1', *lines[6:]]),
        ("nul_byte", 2, lambda lines: [lines[0], lines[1] + "\0", *lines[2:]]),
    ],
)
def test_a_row_that_is_no_record_refuses_with_its_line(
    tmp_path: Path, rule: str, line: int, spoil: Callable[[list[str]], list[str]]
) -> None:
    lines = text_of("enrollments", sound_set()["enrollments"]).splitlines()
    texts = {"enrollments.csv": "\n".join(spoil(lines)) + "\n"}
    finding = findings_of(tmp_path, texts=texts)[rule]
    assert (finding.verdict, finding.line) == ("refuse", line)
    assert finding.file_name == "roster.zip/enrollments.csv"


def test_text_that_is_not_utf_8_is_refused(tmp_path: Path) -> None:
    text = text_of("users", sound_set()["users"]).replace("Eli", "Élie").encode("latin-1")
    finding = findings_of(tmp_path, texts={"users.csv": text})["wrong_encoding"]
    assert finding.verdict == "refuse"


def test_a_byte_order_mark_and_windows_line_ends_are_fine(tmp_path: Path) -> None:
    text = text_of("users", sound_set()["users"]).replace("\n", "\r\n")
    found = findings_of(tmp_path, texts={"users.csv": b"\xef\xbb\xbf" + text.encode()})
    assert all(finding.verdict == "warn" for finding in found.values())
    assert "oneroster_header_spelling" not in found


def test_an_empty_line_is_no_record_and_keeps_the_count_of_lines(tmp_path: Path) -> None:
    text = text_of("orgs", sound_set()["orgs"]).replace("\nd1", "\n\nd1")
    found = findings_of(tmp_path, texts={"orgs.csv": text})
    assert all(finding.verdict == "warn" for finding in found.values())
    assert (tmp_path / "schools.csv").read_text("utf-8").splitlines()[1].endswith(",4")


def test_a_fault_in_one_file_refuses_the_whole_set_and_says_which(tmp_path: Path) -> None:
    path = write_set(tmp_path / "roster.zip", sound_set(), texts=without("users", "givenName"))
    tables = read(path, tmp_path, RosterOptions())
    assert all(table.is_refused for table in tables)
    others = [table for table in tables if table.feed != "people"]
    for table in others:
        refusal = next(finding for finding in table.findings if finding.verdict == "refuse")
        assert refusal.rule == "oneroster_set_refused"
        assert "roster.zip/users.csv" in refusal.message


def test_a_whole_file_sent_as_changes_is_refused(tmp_path: Path) -> None:
    found = findings_of(tmp_path, modes={"enrollments": "delta"})
    finding = found["bulk_sent_as_delta"]
    assert (finding.verdict, finding.count) == ("refuse", 7)
    assert "the manifest must say bulk" in finding.remedy


def test_changes_sent_as_a_whole_file_are_refused(tmp_path: Path) -> None:
    files = sound_set()
    files["enrollments"][2:4] = as_changes(files["enrollments"][2:4], "tobedeleted")
    finding = findings_of(tmp_path, files)["delta_sent_as_bulk"]
    assert (finding.verdict, finding.line, finding.count) == ("refuse", 4, 2)


def test_a_filled_status_in_a_whole_file_is_tolerated_with_a_word(tmp_path: Path) -> None:
    files = sound_set()
    files["users"] = as_changes(files["users"])
    found = findings_of(tmp_path, files)
    assert found["oneroster_status_in_bulk"].verdict == "warn"
    assert all(finding.verdict == "warn" for finding in found.values())


def test_a_change_without_its_status_refuses_the_file(tmp_path: Path) -> None:
    files = sound_set()
    files["users"] = as_changes(files["users"])
    files["users"][3]["status"] = ""
    finding = findings_of(tmp_path, files, modes={"users": "delta"})["oneroster_status_missing"]
    assert (finding.verdict, finding.line, finding.count) == ("refuse", 5, 1)


@pytest.mark.parametrize("mode", ["bulk", "delta"])
def test_a_status_of_another_version_is_refused(tmp_path: Path, mode: str) -> None:
    files = sound_set()
    files["users"] = as_changes(files["users"], "inactive")
    finding = findings_of(tmp_path, files, modes={"users": mode})["oneroster_status_unknown"]
    assert (finding.verdict, finding.count) == ("refuse", 7)


@pytest.mark.parametrize(
    ("year", "is_fault"),
    [("2026", False), ("2025", True), ("2027", False), ("2028", True), ("2025-2026", True)],
)
def test_school_year_is_the_year_in_which_it_ends(
    tmp_path: Path, year: str, is_fault: bool
) -> None:
    files = sound_set()
    for row in files["academicSessions"]:
        row["schoolYear"] = year
    found = findings_of(tmp_path, files)
    assert ("oneroster_school_year" in found) == is_fault
    classes = (tmp_path / "classes.csv").read_text("utf-8").splitlines()
    expected = "2026" if is_fault else year
    assert classes[1].split(",")[-2] == expected


def test_messages_do_not_repeat_what_a_cell_holds(tmp_path: Path) -> None:
    files = sound_set()
    files["users"][3]["role"] = "Robin Surname"
    files["classes"][2]["classType"] = "Robin Surname"
    files["academicSessions"][1]["schoolYear"] = "Robin Surname"
    for finding in findings_of(tmp_path, files).values():
        assert "Robin" not in finding.message + finding.remedy


def test_a_zip_locked_by_a_password_is_refused(tmp_path: Path) -> None:
    path = write_set(tmp_path / "roster.zip", sound_set())
    data = bytearray(path.read_bytes())
    # Bit 0 of the general purpose flag in the local (6) and central (8) headers: encrypted.
    for mark, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = data.find(mark)
        while at >= 0:
            data[at + offset] |= 1
            at = data.find(mark, at + 4)
    path.write_bytes(bytes(data))
    (table,) = read(path, tmp_path, RosterOptions())
    assert table.is_refused
