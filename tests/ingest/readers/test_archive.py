"""A zip may claim any name and any size; only tables come out of it."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from ingest.readers import ReadOptions, Table, archive, read
from tests.ingest import door


def zipped(folder: Path, members: dict[str, bytes]) -> list[Table]:
    path = folder / "term.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as made:
        for name, content in members.items():
            made.writestr(name, content)
    return read(path, folder, ReadOptions(contracts=door.CONTRACTS))


HALLS = door.HALLS.encode()


def test_tables_come_out_under_the_name_of_the_zip(tmp_path: Path) -> None:
    tables = zipped(
        tmp_path,
        {
            "spring/halls.csv": HALLS,
            "evenings.csv": door.evenings(door.evening()).encode(),
            "__MACOSX/._halls.csv": b"\0",
        },
    )

    assert [(one.file_name, one.feed) for one in tables] == [
        ("term.zip/evenings.csv", "evenings"),
        ("term.zip/spring/halls.csv", "halls"),
    ]
    assert len({one.file_hash.partition("/")[0] for one in tables}) == 1
    assert all(one.file_hash.endswith(one.file_name.partition("/")[2]) for one in tables)


@pytest.mark.parametrize(
    "name", ["../halls.csv", "/etc/halls.csv", "a\\..\\..\\halls.csv", "C:/halls.csv"]
)
def test_a_name_that_leads_out_of_the_folder_refuses_the_zip(tmp_path: Path, name: str) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    tables = zipped(inner, {name: HALLS})

    assert [one.rule for table in tables for one in table.findings] == ["unsafe_archive"]
    assert not (tmp_path / "halls.csv").exists()


@pytest.mark.parametrize(
    ("members", "rule"),
    [
        ({"more.zip": b"PK"}, "unsafe_archive"),
        ({"halls.csv": b"0" * (33 << 20)}, "unsafe_archive"),
        ({f"{n}.csv": HALLS for n in range(archive.MOST_MEMBERS + 1)}, "unsafe_archive"),
        ({"readme.pdf": b"x"}, "unknown_feed"),
        ({}, "empty_file"),
    ],
)
def test_what_is_unsafe_or_not_ours_is_said(
    tmp_path: Path, members: dict[str, bytes], rule: str
) -> None:
    [table] = zipped(tmp_path, members)

    assert [one.rule for one in table.findings] == [rule]


def test_a_damaged_zip_is_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "term.zip"
    path.write_bytes(b"PK\x03\x04 and then nothing")
    [table] = read(path, tmp_path, ReadOptions(contracts=door.CONTRACTS))

    assert [one.rule for one in table.findings] == ["unreadable_file"]


def test_a_member_longer_than_its_zip_says_is_not_unpacked_to_the_end(tmp_path: Path) -> None:
    zipped(tmp_path, {"halls.csv": HALLS * 1000})
    with zipfile.ZipFile(tmp_path / "term.zip") as made:
        made.getinfo("halls.csv").file_size = 10
        with pytest.raises(zipfile.BadZipFile):
            archive._extract(made, "halls.csv", tmp_path / "out.csv")

    assert (tmp_path / "out.csv").stat().st_size <= len(HALLS * 1000)
