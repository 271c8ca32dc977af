"""A program that starts a command can follow it line by line, and ask it to stop."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from ingest import cli, progress, state
from ingest.terminal import Terminal
from ingest.workspace import Workspace
from tests.ingest.worlds import AT, SETTINGS, make_workspace

BASE = Path(__file__).resolve().parents[1] / "fixtures" / "base"
FIRST = ("schools", "terms", "people", "classes", "memberships", "routines")


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return make_workspace(tmp_path / "ws")


def load(workspace: Workspace, *files: Path) -> tuple[int, object, list[dict[str, object]]]:
    """Exit code, answer and the lines of a load that is followed."""
    out, err = StringIO(), StringIO()
    terminal = Terminal(Console(file=out), Console(file=err), lambda: AT)
    named = [str(file) for file in files]
    code = cli.run(["load", "-w", str(workspace.root), "--json", "--follow", *named], terminal)
    return (
        code,
        json.loads(out.getvalue()),
        [json.loads(one) for one in err.getvalue().split("\n")[:-1]],
    )


def test_each_verdict_is_said_when_it_stands_and_the_answer_stays_whole(
    workspace: Workspace,
) -> None:
    code, answer, lines = load(workspace, *(BASE / f"{one}.csv" for one in FIRST))
    steps = [line for line in lines if line["event"] == "step"]
    verdicts = [line for line in lines if line["event"] == "file"]
    assert code == 0
    assert isinstance(answer, list)
    assert [one["file_name"] for one in verdicts] == [one["file_name"] for one in answer]
    assert len(answer) == len(FIRST)
    assert steps[-1] == {"event": "step", "label": "", "done": 6, "total": 6}
    for verdict in verdicts:
        earlier = lines[: lines.index(verdict)]
        assert verdict["file_name"] in [one.get("label") for one in earlier]


def test_a_verdict_gives_rule_place_and_remedy_but_no_cell(
    workspace: Workspace, tmp_path: Path
) -> None:
    load(workspace, *(BASE / f"{one}.csv" for one in FIRST))
    wrong = tmp_path / "terms.csv"
    rows = (BASE / "terms.csv").read_text("utf-8").splitlines()
    cells = rows[1].split(",")
    at = rows[0].split(",").index("first_on")
    cells[0], cells[at] = "other-term", "Imani's birthday"
    wrong.write_text("\n".join([rows[0], ",".join(cells)]), encoding="utf-8")
    code, answer, lines = load(workspace, wrong)
    [verdict] = [line for line in lines if line["event"] == "file"]
    assert code == 1
    assert "Imani" in json.dumps(answer)
    assert "Imani" not in json.dumps(lines)
    found = verdict["findings"]
    assert isinstance(found, list)
    assert (found[0]["line"], found[0]["column"]) == (2, "first_on")
    assert found[0]["remedy"]
    assert str(verdict["correction_sheet"]).endswith("-to-correct.xlsx")


def test_work_goes_on_when_nobody_listens_any_more(workspace: Workspace) -> None:
    named = [str(BASE / f"{one}.csv") for one in FIRST]
    command = [sys.executable, "-m", "ingest.cli", "load", "--follow", "--json", *named]
    child = subprocess.Popen(
        [*command, "-w", str(workspace.root)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert child.stdout
    assert child.stderr
    child.stdout.close()
    child.stderr.close()
    child.wait(timeout=120)
    told = state.read(workspace, SETTINGS)
    assert {line.feed for line in told.files} == set(FIRST)
    assert told.balances


def test_a_polite_request_to_stop_is_heard_while_followed() -> None:
    before = signal.getsignal(signal.SIGTERM)
    with (
        pytest.raises(KeyboardInterrupt),
        progress.shown(Console(file=StringIO()), is_followed=True),
    ):
        os.kill(os.getpid(), signal.SIGTERM)
    assert signal.getsignal(signal.SIGTERM) is before
