"""Files go in through one door, are kept as they came, and leave the inbox when they are in."""

from __future__ import annotations

import json
from datetime import timedelta
from pathlib import Path

import pytest

from ingest import intake, settings
from ingest.errors import Busy, UsageProblem
from ingest.ledger_held import Choice
from ingest.lock import held
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.ingest.test_cli import run
from tests.ingest.worlds import AT, make_workspace

SCHOOLS = "school_id,name,parent_id\nquillbrook,Quillbrook Primary (invented),\n"
CLASSES = (
    "class_id,school_id,title,grades,session_pattern,school_year\n"
    "room-1,quillbrook,Room 1,01,full_day,2026\n"
)
BAD_CLASSES = CLASSES + "room-2,quillbrook,Room 2,01,sometimes,2026\n"


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return make_workspace(tmp_path / "ws")


@pytest.fixture
def own(workspace: Workspace) -> Settings:
    return settings.load(workspace.settings_path)


def put(folder: Path, name: str, text: str) -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / name
    path.write_text(text, encoding="utf-8", newline="\n")
    return path


def test_named_files_folders_and_the_inbox_are_found(workspace: Workspace, tmp_path: Path) -> None:
    one = put(tmp_path / "there", "b.csv", "x")
    two = put(tmp_path / "there", "a.csv", "x")
    for name in (".hidden.csv", "~$a.xlsx", "Thumbs.db"):
        put(tmp_path / "there", name, "x")
    assert intake.files(workspace, [one]) == [one]
    assert intake.files(workspace, [tmp_path / "there", one]) == [two, one]
    waiting = put(workspace.inbox, "c.csv", "x")
    assert intake.files(workspace, []) == [waiting]


def test_what_is_not_there_is_said(workspace: Workspace) -> None:
    with pytest.raises(UsageProblem, match="no such file"):
        intake.files(workspace, [Path("nowhere.csv")])
    with pytest.raises(UsageProblem, match="inbox is empty"):
        intake.files(workspace, [])


def test_a_loaded_file_leaves_the_inbox_and_is_kept_as_it_came(
    workspace: Workspace, own: Settings
) -> None:
    put(workspace.inbox, "schools.csv", SCHOOLS)
    (report,) = intake.load(intake.files(workspace, []), workspace, own, AT)
    assert (report.status, report.accepted) == ("loaded", 1)
    assert list(workspace.inbox.iterdir()) == []
    (kept,) = workspace.received.iterdir()
    assert kept.name == f"{report.file_hash[:12]}-schools.csv"
    assert kept.read_text("utf-8") == SCHOOLS


def test_a_named_file_stays_where_it_is_and_is_kept_once(
    workspace: Workspace, own: Settings, tmp_path: Path
) -> None:
    file = put(tmp_path / "there", "schools.csv", SCHOOLS)
    statuses = [intake.load([file], workspace, own, AT)[0].status for _ in range(2)]
    assert statuses == ["loaded", "already_known"]
    assert file.exists()
    assert len(list(workspace.received.iterdir())) == 1


def test_a_refused_file_stays_in_the_inbox_and_is_not_kept(
    workspace: Workspace, own: Settings
) -> None:
    file = put(workspace.inbox, "classes.csv", "class_id,nonsense\nroom-1,x\n")
    (report,) = intake.load([file], workspace, own, AT)
    assert report.status == "refused"
    assert file.exists()
    assert list(workspace.received.iterdir()) == []


def test_no_file_is_loaded_while_another_command_writes(
    workspace: Workspace, own: Settings
) -> None:
    file = put(workspace.inbox, "schools.csv", SCHOOLS)
    with held(workspace, "building", AT), pytest.raises(Busy):
        intake.load([file], workspace, own, AT)
    assert file.exists()
    assert not workspace.landing.exists()


def test_letting_in_what_is_not_held_is_said(workspace: Workspace, own: Settings) -> None:
    intake.load([put(workspace.inbox, "schools.csv", SCHOOLS)], workspace, own, AT)
    with pytest.raises(UsageProblem, match="No row that is set aside"):
        intake.let_in(Choice(file_name="schools.csv"), workspace, AT + timedelta(1), "Office")


def test_check_keeps_nothing_and_load_says_what_comes_next(workspace: Workspace) -> None:
    where = ("--workspace", str(workspace.root))
    put(workspace.inbox, "schools.csv", SCHOOLS)
    put(workspace.inbox, "classes.csv", BAD_CLASSES)
    code, out, _ = run("check", *where)
    assert code == 1
    assert "would set some rows aside" in out
    assert "classes.csv, line 3, column session_pattern: set aside" in out
    assert "Nothing was kept." in out
    assert not workspace.landing.exists()
    code, out, _ = run("load", *where)
    assert code == 1
    assert "to-correct.xlsx and load that file" in out
    assert out.rstrip().endswith("Next: roundelay open")
    code, out, _ = run("release", "classes.csv", "--by", "Office", *where)
    assert code == 1
    assert "Let in: 0. Still set aside (to correct): 1." in out


def test_check_and_load_answer_a_machine_with_every_finding(workspace: Workspace) -> None:
    where = ("--json", "--workspace", str(workspace.root))
    put(workspace.inbox, "schools.csv", SCHOOLS)
    for verb in ("check", "load"):
        code, out, _ = run(verb, *where)
        (report,) = json.loads(out)
        assert (code, report["feed"], report["status"]) == (0, "schools", "loaded")
        assert (report["received"], report["accepted"], report["findings"]) == (1, 1, [])
