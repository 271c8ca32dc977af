"""What a teacher takes away: every row of her room's own file, a file a table, with a note."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pandas as pd
import pytest

from app import access
from app.access import Reader
from app.files import About
from app.pages.parts.my_data import _archive
from app.queries import room
from tests.app.contracts import contracts

ABOUT = About("Everything in this class’s own file", "2026-05-15-20260515T071000", "2026-05-15")


@pytest.fixture(scope="module")
def archive(real_school: Path) -> zipfile.ZipFile:
    snapshot = access.current_snapshot(real_school)
    scope = access.scope_for(snapshot, Reader("teacher", "room-3"))
    return zipfile.ZipFile(io.BytesIO(_archive(scope, ABOUT)))


def read(archive: zipfile.ZipFile, name: str) -> pd.DataFrame:
    return pd.read_csv(io.BytesIO(archive.read(name)), comment="#")


def test_every_table_of_a_room_is_named_here_and_nothing_else() -> None:
    published = {name for name, one in contracts().items() if one.audience == "room"}
    assert set(room.TABLES) == published


def test_every_table_with_rows_is_in_it_with_all_of_them(
    archive: zipfile.ZipFile, real_school: Path
) -> None:
    scope = access.scope_for(access.current_snapshot(real_school), Reader("teacher", "room-3"))
    found = {name for name in archive.namelist() if name.endswith(".csv")}
    for name in room.TABLES:
        rows = room.whole_table(scope, name)
        file = f"{name.removeprefix('room_')}.csv"
        assert (file in found) is bool(len(rows))
        if len(rows):
            assert list(read(archive, file).columns) == list(rows.columns)
            assert len(read(archive, file)) == len(rows)
    assert len(found) > 8


def test_no_other_class_is_in_it(archive: zipfile.ZipFile) -> None:
    for name in archive.namelist():
        if name.endswith(".csv"):
            assert set(read(archive, name)["class_id"]) == {"room-3"}, name


def test_names_of_children_stand_in_one_file_as_the_room_holds_them(
    archive: zipfile.ZipFile,
) -> None:
    named = [name for name in archive.namelist() if b"Imani" in archive.read(name)]
    assert named == ["turns.csv"]
    assert set(read(archive, "turns.csv")["family_initial"]) == {"K"}


def test_the_note_says_what_each_file_is_and_from_which_build(archive: zipfile.ZipFile) -> None:
    note = archive.read("README.txt").decode("utf-8")
    for part in (ABOUT.build_id, ABOUT.as_of_on, "never of a child", "turns.csv (10 rows)"):
        assert part in note
    for name in room.TABLES:
        assert name.removeprefix("room_") in note


def test_the_same_build_gives_the_same_archive(real_school: Path) -> None:
    scope = access.scope_for(access.current_snapshot(real_school), Reader("teacher", "room-3"))
    assert _archive(scope, ABOUT) == _archive(scope, ABOUT)


def test_a_table_that_is_none_of_the_rooms_is_not_read(real_school: Path) -> None:
    scope = access.scope_for(access.current_snapshot(real_school), Reader("teacher", "room-3"))
    with pytest.raises(KeyError):
        room.whole_table(scope, "information_schema.tables")
