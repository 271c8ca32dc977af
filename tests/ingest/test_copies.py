"""A copy holds what cannot be made again, whole or not at all."""

from __future__ import annotations

import errno
import json
import sqlite3
import tarfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import duckdb
import pytest

from ingest import accounts, copies, durable, lock
from ingest.errors import Busy, UsageProblem, WorkspaceProblem
from ingest.workspace import Workspace, open_workspace
from tests.ingest.worlds import land, make_build, make_workspace

NOW = datetime(2026, 5, 15, 18, 30, tzinfo=UTC)


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path / "our-school")
    land(made)
    make_build(made)
    accounts.add(made, "anna", "Anna Berg", "principal", None, "not a hash", NOW)
    (made.inbox / "waiting.csv").write_text("a,b\n", "utf-8")
    with closing(sqlite3.connect(made.root / "classroom.sqlite")) as rounds, rounds:
        rounds.execute("create table hat (class_id text)")
        rounds.execute("insert into hat values ('room-1')")
    return made


def test_a_copy_unpacked_elsewhere_is_the_same_workspace(
    workspace: Workspace, tmp_path: Path
) -> None:
    made = copies.make(workspace, tmp_path / "copies", NOW)
    assert made.name == "our-school-2026-05-15T183000.tar.gz"
    again = tmp_path / "again"
    with tarfile.open(made) as copy:
        copy.extractall(again, filter="data")
    found = open_workspace(again)
    assert (found.inbox / "waiting.csv").read_text("utf-8") == "a,b\n"
    assert found.settings_path.read_bytes() == workspace.settings_path.read_bytes()
    assert [one.account_name for one in accounts.listed(found)] == ["anna"]
    with closing(sqlite3.connect(again / "classroom.sqlite")) as rounds:
        assert rounds.execute("select class_id from hat").fetchall() == [("room-1",)]
    rows = "select * from latest.classes order by class_id"
    with duckdb.connect(str(found.landing)) as one, duckdb.connect(str(workspace.landing)) as two:
        assert one.execute(rows).fetchall() == two.execute(rows).fetchall() != []


def test_builds_snapshots_and_visits_are_left_out(workspace: Workspace, tmp_path: Path) -> None:
    (workspace.root / "sessions.sqlite").write_bytes(b"visits")
    (workspace.root / "sessions.sqlite-wal").write_bytes(b"visits")
    with lock.watching(workspace):
        made = copies.make(workspace, tmp_path / "copies", NOW)
    with tarfile.open(made) as copy:
        first = {name.split("/")[0] for name in copy.getnames()}
    assert {"roundelay.toml", "landing.duckdb", "accounts.sqlite", "inbox"} <= first
    assert not first & {"builds", "snapshots", "logs", "work.lock", "work.lock.txt", "watch.lock"}
    assert not any(name.startswith("sessions") for name in first)


def test_a_database_in_the_middle_of_a_writing_is_copied_as_it_stood_before(
    workspace: Workspace, tmp_path: Path
) -> None:
    base = workspace.root / "notes.sqlite"
    with closing(sqlite3.connect(base, isolation_level=None)) as writer:
        writer.execute("pragma journal_mode = wal")
        writer.execute("create table line (text)")
        writer.execute("insert into line values ('whole')")
        writer.execute("begin")
        writer.execute("insert into line values ('half')")
        made = copies.make(workspace, tmp_path / "copies", NOW)
        writer.execute("rollback")
    with tarfile.open(made) as copy:
        copy.extract("notes.sqlite", tmp_path / "out", filter="data")
        assert not [name for name in copy.getnames() if name.endswith(("-wal", "-shm"))]
    with closing(sqlite3.connect(tmp_path / "out" / "notes.sqlite")) as read:
        assert read.execute("select text from line").fetchall() == [("whole",)]


def test_while_a_command_is_at_work_there_is_no_copy(workspace: Workspace, tmp_path: Path) -> None:
    with lock.held(workspace, "load", NOW), pytest.raises(Busy):
        copies.make(workspace, tmp_path / "copies", NOW)
    assert list((tmp_path / "copies").iterdir()) == []


def test_a_full_disk_leaves_nothing_that_looks_like_a_copy(
    workspace: Workspace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", str(path))

    monkeypatch.setattr(durable, "flush_file", full)
    with pytest.raises(WorkspaceProblem, match="could not be written") as told:
        copies.make(workspace, tmp_path / "copies", NOW)
    assert "No space left" in str(told.value.rule)
    assert list((tmp_path / "copies").iterdir()) == []


def test_a_copy_is_not_kept_inside_the_workspace(workspace: Workspace) -> None:
    with pytest.raises(UsageProblem, match="not kept inside"):
        copies.make(workspace, workspace.root / "copies", NOW)
    assert not (workspace.root / "copies").exists()


def test_the_command_says_where_the_copy_is(
    workspace: Workspace, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from ingest.cli import run
    from ingest.terminal import Terminal

    arguments = ["copy", str(tmp_path / "copies"), "-w", str(workspace.root), "--json"]
    assert run(arguments, Terminal()) == 0
    told = json.loads(capsys.readouterr().out)
    assert Path(told["copy"]).stat().st_size == told["bytes"] > 0
