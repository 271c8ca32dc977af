"""A watching process stops when asked, may be killed at any moment, and is one of its kind."""

from __future__ import annotations

import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest

from ingest import pointer
from ingest.workspace import Workspace
from tests.ingest.test_intake import CLASSES, SCHOOLS, put
from tests.ingest.worlds import column, make_workspace

ROOT = Path(__file__).resolve().parents[2]
Child = subprocess.Popen[str]
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals of POSIX")


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path / "ws")
    with made.settings_path.open("a", encoding="utf-8") as file:
        file.write("[watch]\nsettle_seconds = 1\n")
    return made


@pytest.fixture
def begin() -> Iterator[Callable[..., Child]]:
    children: list[Child] = []

    def start(*arguments: str) -> Child:
        child = subprocess.Popen(
            [sys.executable, *arguments], cwd=ROOT, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, text=True, env={"PYTHONPATH": str(ROOT), "PATH": ""},
            # Tests that run in the background hand on that Ctrl-C is not heard.
            preexec_fn=partial(signal.signal, signal.SIGINT, signal.SIG_DFL),
        )  # fmt: skip
        children.append(child)
        return child

    yield start
    for child in children:
        child.kill()
        child.wait()
        assert child.stdout is not None
        child.stdout.close()


def heard(child: Child, words: str) -> str:
    """The line in which these words come; `AssertionError` when the process ends without."""
    assert child.stdout is not None
    lines = []
    for line in child.stdout:
        lines.append(line)
        if words in line:
            return line
    raise AssertionError("".join(lines))


def stand_in(workspace: Workspace, *how: str) -> tuple[str, ...]:
    return ("-m", "tests.ingest.watching_school", str(workspace.root), *how)


@pytest.mark.parametrize("sign", [signal.SIGTERM, signal.SIGINT])
def test_the_command_takes_up_a_file_and_stops_when_it_is_asked(
    workspace: Workspace, begin: Callable[..., Child], sign: signal.Signals
) -> None:
    text = workspace.settings_path.read_text("utf-8") + "build_every_minutes = 0\n"
    workspace.settings_path.write_text(text, "utf-8")
    child = begin("-m", "ingest.cli", "watch", "--workspace", str(workspace.root))
    assert str(workspace.inbox) in heard(child, "Watching")
    put(workspace.inbox, "schools.csv", SCHOOLS)
    assert "Read 1 file: 1 row kept" in heard(child, "Read")
    assert list(workspace.inbox.iterdir()) == []
    child.send_signal(sign)
    assert "Nothing is half done" in heard(child, "Stopped")
    assert child.wait(timeout=20) == 0


def test_stopped_in_the_middle_of_a_build_it_leaves_the_one_before(
    workspace: Workspace, begin: Callable[..., Child]
) -> None:
    put(workspace.inbox, "schools.csv", SCHOOLS)
    put(workspace.inbox, "classes.csv", CLASSES)
    child = begin(*stand_in(workspace, "hold"))
    heard(child, "building")
    child.send_signal(signal.SIGTERM)
    heard(child, "stopped")
    assert child.wait(timeout=20) == 0
    assert pointer.read(workspace) is None
    child = begin(*stand_in(workspace))
    heard(child, "Built")
    assert pointer.read(workspace) is not None


def test_killed_without_warning_it_loses_nothing_and_the_next_goes_on(
    workspace: Workspace, begin: Callable[..., Child]
) -> None:
    put(workspace.inbox, "schools.csv", SCHOOLS)
    put(workspace.inbox, "classes.csv", CLASSES)
    child = begin(*stand_in(workspace, "hold"))
    heard(child, "building")
    child.kill()
    child.wait()
    put(workspace.inbox, "classes.csv", CLASSES + "room-2,quillbrook,B,01,full_day,2026\n")
    child = begin(*stand_in(workspace))
    heard(child, "Read 1 file")
    heard(child, "Built")
    child.send_signal(signal.SIGTERM)
    heard(child, "stopped")
    query = "select class_id from latest.classes order by 1"
    assert column(workspace.landing, query) == ["room-1", "room-2"]
    assert list(workspace.inbox.iterdir()) == []


def test_a_second_one_is_told_that_the_workspace_is_watched(
    workspace: Workspace, begin: Callable[..., Child]
) -> None:
    first = begin("-m", "ingest.cli", "watch", "--workspace", str(workspace.root))
    heard(first, "Watching")
    second = begin("-m", "ingest.cli", "watch", "--workspace", str(workspace.root))
    heard(second, "This workspace is watched already.")
    assert second.wait(timeout=20) == 5
    first.kill()
    first.wait()
    third = begin("-m", "ingest.cli", "watch", "--workspace", str(workspace.root))
    heard(third, "Watching")


def test_another_command_may_write_while_it_watches(
    workspace: Workspace, begin: Callable[..., Child], tmp_path: Path
) -> None:
    child = begin("-m", "ingest.cli", "watch", "--workspace", str(workspace.root))
    heard(child, "Watching")
    file = put(tmp_path, "schools.csv", SCHOOLS)
    other = begin("-m", "ingest.cli", "load", str(file), "--workspace", str(workspace.root))
    heard(other, "Next: roundelay")
    assert other.wait(timeout=60) == 0
