"""The pointer names a whole build, and goes back and forth between those that are kept."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from ingest import durable, keep, lock, pointer
from ingest.errors import Busy, UsageProblem, WorkspaceProblem
from ingest.workspace import Workspace
from tests.ingest.worlds import AT, column, land, make_build, make_workspace

READER = """
import sys, duckdb
connection = duckdb.connect(sys.argv[1], read_only=True)
print("open", flush=True)
sys.stdin.readline()
print(connection.execute("select min(build_id) from mart_school").fetchone()[0], flush=True)
"""


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path)
    land(made)
    return made


def build_days(workspace: Workspace, days: int, keep_builds: int = 5) -> list[str]:
    moments = [AT + timedelta(days=day) for day in range(days)]
    return [make_build(workspace, moment, keep_builds).build_id for moment in moments]


def test_nothing_is_current_before_the_first_build(workspace: Workspace) -> None:
    assert pointer.read(workspace) is None
    assert pointer.published(workspace) == []
    with pytest.raises(UsageProblem, match="no earlier build"):
        pointer.back(workspace)


def test_back_goes_one_build_back_each_time_and_returns_by_name(workspace: Workspace) -> None:
    first, second, third = build_days(workspace, 3)
    assert pointer.read(workspace) == third
    assert pointer.back(workspace) == second
    assert pointer.back(workspace) == first
    with pytest.raises(UsageProblem, match="no earlier build"):
        pointer.back(workspace)
    assert pointer.back(workspace, third) == third
    assert pointer.read(workspace) == third


@pytest.mark.parametrize("name", ["2026-05-15-20990101T000000", "../../elsewhere", ""])
def test_a_build_that_is_not_there_cannot_become_current(workspace: Workspace, name: str) -> None:
    (only,) = build_days(workspace, 1)
    with pytest.raises(UsageProblem, match="no build"):
        pointer.flip(workspace, name)
    assert pointer.read(workspace) == only


def test_builds_are_ordered_by_when_they_were_made_not_by_their_as_of_day(
    workspace: Workspace,
) -> None:
    for name in ("2026-05-15-20260516T000000", "2026-04-01-20260601T000000"):
        (workspace.snapshots / name).mkdir()
        (workspace.snapshots / name / "build.json").write_text("{}", encoding="utf-8")
    assert pointer.published(workspace)[-1] == "2026-04-01-20260601T000000"


def test_a_pointer_with_anything_else_in_it_names_nothing(workspace: Workspace) -> None:
    workspace.current.write_text("../../etc", encoding="utf-8")
    assert pointer.read(workspace) is None


def test_the_last_builds_are_kept_and_older_ones_go_with_their_warehouse(
    workspace: Workspace,
) -> None:
    names = build_days(workspace, 4, keep_builds=2)
    assert pointer.published(workspace) == names[2:]
    assert [path.name for path in workspace.builds.iterdir()] == names[3:]


def test_the_current_build_is_kept_even_when_it_is_old(workspace: Workspace) -> None:
    first, *_ = build_days(workspace, 3)
    pointer.back(workspace, first)
    assert keep.tidy(workspace, 1) != []
    assert pointer.read(workspace) == first
    assert first in pointer.published(workspace)


def test_a_build_runs_while_a_reader_has_the_old_one_open_which_then_stays(
    workspace: Workspace,
) -> None:
    (first,) = build_days(workspace, 1)
    file = workspace.snapshots / first / "school.duckdb"
    with subprocess.Popen(
        [sys.executable, "-c", READER, str(file)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as reader:
        assert reader.stdout is not None
        assert reader.stdin is not None
        assert reader.stdout.readline() == "open\n"
        second = make_build(workspace, AT + timedelta(days=1), keep=1)
        assert pointer.published(workspace) == [first, second.build_id]
        reader.stdin.write("now\n")
        reader.stdin.flush()
        assert reader.stdout.readline() == f"{first}\n"
    assert (
        column(second.snapshot / "school.duckdb", "select build_id from mart_school")
        == [second.build_id] * 2
    )
    assert keep.tidy(workspace, 1) == [first]


def test_the_lock_is_free_again_after_the_block_and_after_a_fault(workspace: Workspace) -> None:
    with pytest.raises(ZeroDivisionError), lock.held(workspace, "testing", AT):
        raise ZeroDivisionError
    with (
        lock.held(workspace, "testing", AT),
        pytest.raises(Busy, match="at work") as busy,
        lock.held(workspace, "testing more", AT),
    ):
        pass
    assert busy.value.where.startswith("testing, process ")


def test_a_note_without_its_holder_means_nothing(workspace: Workspace) -> None:
    workspace.lock.with_name("work.lock.txt").write_text("{broken", encoding="utf-8")
    with lock.held(workspace, "testing", AT):
        pass


def test_a_lock_file_that_is_no_lock_is_a_workspace_problem(workspace: Workspace) -> None:
    workspace.lock.mkdir()
    with pytest.raises(WorkspaceProblem, match="cannot be written"), lock.held(workspace, "x", AT):
        pass


class Stubborn(type(Path())):  # type: ignore[misc]
    """A file that cannot be moved until it was tried often enough, as under Windows."""

    refusals = 0

    def replace(self, target: Path) -> Path:
        if type(self).refusals > 0:
            type(self).refusals -= 1
            raise PermissionError("in use")
        return Path(super().replace(target))


def test_replacing_waits_for_a_reader_a_little_and_then_gives_up(tmp_path: Path) -> None:
    source, target, waits = Stubborn(tmp_path / "new"), tmp_path / "current", []
    source.write_text("b", encoding="utf-8")
    target.write_text("a", encoding="utf-8")
    Stubborn.refusals = 3
    durable.replace(source, target, waits.append)
    assert (target.read_text("utf-8"), len(waits)) == ("b", 3)
    source.write_text("c", encoding="utf-8")
    Stubborn.refusals = 1000
    with pytest.raises(PermissionError):
        durable.replace(source, target, waits.append)
    assert target.read_text("utf-8") == "b"
