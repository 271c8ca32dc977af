"""A load that is cut short leaves the store as it was, and the next one completes."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import duckdb
import pytest

from ingest import intake
from ingest.errors import Busy
from ingest.load import FileReport, load_files
from ingest.workspace import Workspace
from tests.ingest import door, records
from tests.ingest.door import rows

ROOT = Path(__file__).resolve().parents[2]
_MANY = 300_000


def many_evenings(folder: Path, count: int) -> Path:
    """A file with so many rows that DuckDB writes some of them to disk before the end."""
    path = door.write(folder, "evenings.csv", "")
    with duckdb.connect() as con:
        con.execute(
            f"copy (select 'e' || i as evening_id, 'h1' as hall_id, '2026-03-02' as held_on, "
            "'' as began_local, '45' as minutes, '7' as song_count, 'open' as kind, "
            "'s1' as led_by, 'KG' as grade, '' as written_at, '' as was_wet, "
            f"md5(i::varchar)[:30] as note from range({count}) as numbers (i)) "
            f"to '{path}' (header)"
        )
    return path


def command(world: Path, path: Path, how: str) -> list[str]:
    return [sys.executable, "-m", "tests.ingest.interrupted_load", str(world), str(path), how]


@contextmanager
def held_load(world: Path, path: Path) -> Iterator[subprocess.Popen[str]]:
    """A child process that stands in the middle of a transaction."""
    child = subprocess.Popen(
        command(world, path, "hold"),
        cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        yield child
    finally:
        child.kill()
        child.communicate()


def test_a_load_killed_in_the_middle_leaves_nothing_and_the_next_one_completes(
    world: Path, tmp_path: Path
) -> None:
    path = many_evenings(tmp_path / "in", _MANY)
    files = rows(world, "select * from ledger.files")
    with held_load(world, path) as child:
        child.kill()

    assert rows(world, "select count(*) from store.evenings") == [(0,)]
    assert rows(world, "select * from ledger.files") == files
    [report] = door.load(world, path)
    assert (report.accepted, report.known) == (_MANY, 0)


def test_a_second_writer_is_told_to_wait(world: Path, tmp_path: Path) -> None:
    path = many_evenings(tmp_path / "in", 3)
    with held_load(world, path):
        with pytest.raises(Busy, match="Another command"):
            door.load(world, path)
        with pytest.raises(Busy):
            door.check(world, path)


@pytest.mark.skipif(sys.platform == "win32", reason="a process cannot limit its files there")
def test_a_full_disk_is_said_plainly_and_what_was_there_stays(world: Path, tmp_path: Path) -> None:
    path = many_evenings(tmp_path / "in", _MANY)
    limit = (world / "landing.duckdb").stat().st_size + 1_000_000
    done = subprocess.run(
        command(world, path, str(limit)), cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert (done.returncode, done.stderr) == (3, "")
    assert "no room left" in done.stdout
    assert "free some disk space" in done.stdout
    assert rows(world, "select count(*) from latest.halls") == [(2,)]
    [report] = door.load(world, path)
    assert report.accepted == _MANY


def test_a_bundle_killed_in_the_middle_leaves_no_record_of_it_and_the_next_load_completes(
    world: Path, tmp_path: Path
) -> None:
    paths = records.write_many(tmp_path / "in", 30)
    files = rows(world, "select * from ledger.files")
    with held_load(world, tmp_path / "in") as child:
        child.kill()

    assert rows(world, "select count(*) from store.evenings") == [(0,)]
    assert rows(world, "select * from ledger.files") == files
    found = records.load(world, paths)
    assert [(one.accepted, one.known) for one in found.values()] == [(1, 0)] * 30


def test_a_load_killed_while_it_clears_the_inbox_loses_and_doubles_no_record(
    world: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workspace = Workspace(world)
    workspace.make_folders()
    paths = records.write_many(workspace.inbox, 8)
    usual, kept = intake._keep, []

    def killed_at_the_fourth(path: Path, *more: object) -> None:
        if len(kept) == 3:
            raise Killed
        kept.append(path)
        usual(path, *more)

    def loader(*given: object) -> list[FileReport]:
        return load_files(*given, contracts=records.CONTRACTS)

    with monkeypatch.context() as broken:
        broken.setattr(intake, "_keep", killed_at_the_fourth)
        with pytest.raises(Killed):
            intake.load(paths, workspace, door.SETTINGS, door.NOW, loader=loader)
    for path in paths:
        copies = list(workspace.received.glob(f"*-{path.name}"))
        assert (path.exists(), len(copies)) == ((False, 1) if path in kept else (True, 0))

    waiting = intake.files(workspace, [])
    again = intake.load(waiting, workspace, door.SETTINGS, door.NOW, loader=loader)
    assert [one.status for one in again] == ["already_known"] * 5
    assert rows(world, "select count(*), count(distinct evening_id) from feed.evenings") == [(8, 8)]
    assert list(workspace.inbox.iterdir()) == []
    assert len(list(workspace.received.iterdir())) == 8


class Killed(BaseException):
    """Nothing after it is done, as with a process that is gone."""


@pytest.mark.skipif(sys.platform == "win32", reason="a process cannot limit its files there")
def test_a_disk_that_is_full_for_a_bundle_is_said_plainly_and_none_of_it_is_kept(
    world: Path, tmp_path: Path
) -> None:
    paths = records.write_many(tmp_path / "in", 200)
    done = subprocess.run(
        command(world, tmp_path / "in", "20000"),
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip

    assert (done.returncode, done.stderr) == (3, "")
    assert "no room left" in done.stdout
    assert "and 199 more" in done.stdout
    assert rows(world, "select count(*) from store.evenings") == [(0,)]
    found = records.load(world, paths)
    assert sum(one.accepted for one in found.values()) == 200
