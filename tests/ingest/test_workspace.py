"""A workspace is found, made and never overwritten."""

from __future__ import annotations

from pathlib import Path

import pytest

from ingest import clock, settings, start, workspace
from ingest.errors import UsageProblem, WorkspaceProblem
from tests.ingest.worlds import AT


def make(folder: Path) -> Path:
    return start.create(folder, None, None, "UTC").root


def test_a_new_workspace_has_every_folder_and_is_named_after_its_own(tmp_path: Path) -> None:
    made = start.create(tmp_path / "quillbrook-primary", None, None, "Europe/Dublin")
    told = settings.load(made.settings_path)
    assert (told.school_name, told.school_id) == ("Quillbrook Primary", "quillbrook-primary")
    assert told.time_zone == "Europe/Dublin"
    assert all((made.root / name).is_dir() for name in workspace.FOLDERS)


def test_what_is_given_is_taken(tmp_path: Path) -> None:
    made = start.create(tmp_path / "q", "École du Pré", "ep", "UTC", is_demo=True)
    told = settings.load(made.settings_path)
    assert (told.school_name, told.school_id, told.is_demo) == ("École du Pré", "ep", True)


@pytest.mark.parametrize(
    ("name", "key"), [("École du Pré", "ecole-du-pre"), ("学校", "school"), ("  A  B ", "a-b")]
)
def test_a_key_is_made_of_a_name(name: str, key: str) -> None:
    assert start.key_from(name) == key


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    made = start.create(tmp_path / "q", "Mine", None, "UTC")
    with pytest.raises(UsageProblem, match="already"):
        start.create(tmp_path / "q", "Other", None, "UTC")
    assert settings.load(made.settings_path).school_name == "Mine"


def test_an_unknown_zone_makes_nothing(tmp_path: Path) -> None:
    with pytest.raises(UsageProblem, match="time zone"):
        start.create(tmp_path / "q", None, None, "Mars/Base")
    assert not (tmp_path / "q").exists()


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(WorkspaceProblem, match="cannot be made"):
        start.create(tmp_path / "file" / "q", None, None, "UTC")


def test_a_workspace_is_found_from_inside_and_from_the_folder_around_it(tmp_path: Path) -> None:
    root = make(tmp_path / "around" / "q")
    assert workspace.find(root).root == root
    assert workspace.find(root / "inbox").root == root
    assert workspace.find(tmp_path / "around").root == root


def test_the_invented_school_does_not_stand_in_the_way_of_the_own(tmp_path: Path) -> None:
    demo = make(tmp_path / "demo")
    assert workspace.find(tmp_path).root == demo
    own = make(tmp_path / "own")
    assert workspace.find(tmp_path).root == own


def test_several_workspaces_must_be_told_apart(tmp_path: Path) -> None:
    make(tmp_path / "a")
    make(tmp_path / "b")
    with pytest.raises(WorkspaceProblem, match="several") as problem:
        workspace.find(tmp_path)
    assert problem.value.where == "a, b"


def test_a_folder_that_is_none_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(WorkspaceProblem) as problem:
        workspace.open_workspace(tmp_path)
    assert "roundelay new" in problem.value.remedy
    assert str(problem.value).count("\n") == 2


def test_missing_folders_of_a_workspace_are_made_again(tmp_path: Path) -> None:
    root = make(tmp_path / "q")
    (root / "inbox").rmdir()
    assert workspace.open_workspace(root).inbox.is_dir()


def test_the_zone_of_the_computer_comes_from_its_variable_its_link_or_is_utc(
    tmp_path: Path,
) -> None:
    assert clock.own_zone({"TZ": ":Asia/Tokyo"}, tmp_path / "none") == "Asia/Tokyo"
    zone = tmp_path / "zoneinfo" / "Europe" / "Dublin"
    assert clock.own_zone({"TZ": "nonsense"}, zone) == "Europe/Dublin"
    assert clock.own_zone({}, tmp_path / "none") == "UTC"
    assert clock.day_in("Asia/Tokyo", AT.replace(hour=23)).isoformat() == "2026-05-17"
