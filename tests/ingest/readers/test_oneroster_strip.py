"""The copy that is kept holds what the reader needs and nothing else."""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path

import pytest

from ingest.readers.oneroster import RosterOptions, read, stripped_copy
from ingest.readers.oneroster_strip import CannotStrip
from tests.ingest.readers.oneroster_sets import Files, sound_set, write_set

DEMOGRAPHICS = {
    "sourcedId": "p1",
    "birthDate": "2018-05-01",
    "sex": "female",
    "countryOfBirthCode": "XA",
    "stateOfBirthAbbreviation": "XB",
    "cityOfBirth": "Elsewhere-Invented",
}


def full_set(version: str) -> Files:
    files = sound_set(version)
    files["demographics"] = [DEMOGRAPHICS]
    files["users"][0]["metadata.lunch"] = "free-lunch"
    return files


def kept(path: Path) -> dict[str, list[list[str]]]:
    with zipfile.ZipFile(path) as archive:
        return {
            name: list(csv.reader(io.StringIO(archive.read(name).decode("utf-8"))))
            for name in archive.namelist()
        }


@pytest.mark.parametrize("version", ["1.1", "1.2"])
def test_private_columns_and_files_are_not_in_the_copy(tmp_path: Path, version: str) -> None:
    texts = {"results.csv": "sourcedId,score\nx,99\n", "userProfiles.csv": "sourcedId\nx\n"}
    path = write_set(
        tmp_path / "roster.zip", full_set(version), version, texts=texts, modes={"results": "bulk"}
    )
    stripped_copy(path, tmp_path / "kept.zip")
    members = kept(tmp_path / "kept.zip")
    assert not {"demographics.csv", "results.csv", "userProfiles.csv"} & set(members)
    header = set(members["users.csv"][0])
    private = {"password", "sms", "phone", "email", "agentSourcedIds", "username", "identifier"}
    assert not header & private
    everything = str(members)
    for secret in ("open-sesame", "example.invalid", "555-01", "NATIONAL-77", "free-lunch"):
        assert secret not in everything
    manifest = {row[0]: row[1] for row in members["manifest.csv"]}
    assert manifest["file.results"] == manifest["file.demographics"] == "absent"
    assert manifest["file.users"] == "bulk"


def test_demographics_stay_for_equity_reports_without_the_place_of_birth(tmp_path: Path) -> None:
    path = write_set(tmp_path / "roster.zip", full_set("1.1"))
    stripped_copy(path, tmp_path / "kept.zip", equity_reports=True)
    header, row = kept(tmp_path / "kept.zip")["demographics.csv"]
    assert dict(zip(header, row, strict=True))["sex"] == "female"
    assert not {"countryOfBirthCode", "stateOfBirthAbbreviation", "cityOfBirth"} & set(header)
    assert "Elsewhere-Invented" not in row


@pytest.mark.parametrize("version", ["1.1", "1.2"])
def test_the_copy_reads_exactly_like_the_original(tmp_path: Path, version: str) -> None:
    path = write_set(tmp_path / "roster.zip", full_set(version), version)
    (tmp_path / "kept").mkdir()
    stripped_copy(path, tmp_path / "kept" / "roster.zip")
    texts = []
    for source in (path, tmp_path / "kept" / "roster.zip"):
        tables = read(source, tmp_path, RosterOptions())
        texts.append([(t.feed, t.path.read_text("utf-8"), t.findings) for t in tables])
    assert texts[0] == texts[1]


def test_the_same_roster_gives_the_same_bytes(tmp_path: Path) -> None:
    path = write_set(tmp_path / "roster.zip", full_set("1.1"))
    for name in ("a.zip", "b.zip"):
        stripped_copy(path, tmp_path / name)
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_a_zip_that_is_not_understood_is_not_kept_at_all(tmp_path: Path) -> None:
    path = write_set(tmp_path / "roster.zip", sound_set(), manifest="what,is,this\n")
    with pytest.raises(CannotStrip) as caught:
        stripped_copy(path, tmp_path / "kept.zip")
    assert caught.value.remedy
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["roster.zip"]


def test_a_file_that_breaks_off_leaves_no_copy(tmp_path: Path) -> None:
    path = write_set(
        tmp_path / "roster.zip", sound_set(), texts={"users.csv": b"sourcedId\n\xff\n"}
    )
    with pytest.raises(CannotStrip):
        stripped_copy(path, tmp_path / "kept.zip")
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["roster.zip"]
