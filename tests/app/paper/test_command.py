"""`roundelay brief` prints through the dashboard's own print room and says why when it cannot."""

from __future__ import annotations

import json
import sys
from io import StringIO
from pathlib import Path

import pytest
from rich.console import Console

from ingest import cli, printing
from ingest.errors import Problem, UsageProblem, WorkspaceProblem
from ingest.terminal import Terminal
from ingest.workspace import Workspace
from tests.app.invented import rows
from tests.app.paper.reading import Printed
from tests.app.snapshot import BUILD_ID, write_snapshot
from tests.ingest.worlds import AT, make_workspace


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return make_workspace(tmp_path / "ws")


@pytest.fixture
def built(workspace: Workspace) -> Workspace:
    write_snapshot(workspace.root, rows(), is_demo=False)
    return workspace


def run(*arguments: str) -> tuple[int, str, str]:
    out, err = StringIO(), StringIO()
    consoles = [Console(file=file, width=200, markup=False, highlight=False) for file in (out, err)]
    code = cli.run(["brief", *arguments], Terminal(consoles[0], consoles[1], lambda: AT))
    return code, out.getvalue(), err.getvalue()


def test_it_writes_two_pages_and_says_where(built: Workspace, tmp_path: Path) -> None:
    where = ("--workspace", str(built.root), "--school", "quillbrook")
    code, out, err = run("--out", str(tmp_path), *where)
    file = tmp_path / "brief-2026-05-15.pdf"
    assert (code, err) == (0, "")
    assert f"Wrote the brief to {file}" in out
    page = Printed(file.read_bytes())
    assert len(page.file.pages) == 2
    assert "spring term so far" in page.text
    assert [path.name for path in tmp_path.iterdir() if "part" in path.name] == []


def test_a_machine_is_told_the_file_and_the_build(built: Workspace, tmp_path: Path) -> None:
    file = tmp_path / "w.pdf"
    where = ("--workspace", str(built.root), "--school", "quillbrook")
    code, out, _ = run("--term", "winter", "--out", str(file), "--json", *where)
    assert (code, json.loads(out)) == (0, {"file": str(file), "build_id": BUILD_ID})
    assert "winter term" in Printed(file.read_bytes()).text


def test_a_term_that_is_not_there_is_told_with_those_that_are(
    built: Workspace, tmp_path: Path
) -> None:
    file = tmp_path / "x.pdf"
    where = ("--workspace", str(built.root), "--school", "quillbrook")
    code, _, err = run("--term", "summer", "--out", str(file), *where)
    assert code == 2
    assert "There is no term “summer”" in err
    assert "Autumn term (autumn)" in err
    assert "What to do: choose one of these" in err
    assert not file.exists()


def test_without_a_build_it_says_so(workspace: Workspace) -> None:
    code, _, err = run("--workspace", str(workspace.root))
    assert code == 2
    assert "There is no build yet." in err
    assert "roundelay build" in err


@pytest.mark.parametrize(
    ("name", "told"),
    [("brief.docx", "The brief is written as PDF."), ("no/such/x.pdf", "There is no such folder.")],
)
def test_a_file_that_cannot_be_is_refused_before_printing(
    built: Workspace, tmp_path: Path, name: str, told: str
) -> None:
    never = (sys.executable, "-c", "raise SystemExit('it was started')")
    with pytest.raises(UsageProblem, match=told):
        printing.brief(built, "", "", tmp_path / name, tmp_path / "log", never)


@pytest.mark.parametrize(
    ("program", "told"),
    [
        ('import sys; print(\'{"problem": "The build is torn."}\'); sys.exit(3)', "torn"),
        ("raise KeyError('deep inside')", "could not be printed"),
        ("print('{}')", "could not be printed"),
        ("print('[1]')", "could not be printed"),
    ],
    ids=["said", "unforeseen", "nothing written", "no answer"],
)
def test_a_print_room_that_stumbles_leaves_a_log_and_no_file(
    built: Workspace, tmp_path: Path, program: str, told: str
) -> None:
    log = tmp_path / "brief.log"
    with pytest.raises(Problem, match=told) as problem:
        printing.brief(built, "", "", tmp_path / "x.pdf", log, (sys.executable, "-c", program))
    assert "no half brief" in problem.value.rule
    assert problem.value.where == str(log)
    assert ("deep inside" in log.read_text("utf-8")) is ("KeyError" in program)
    assert not (tmp_path / "x.pdf").exists()


def test_a_missing_package_is_named(
    built: Workspace, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(WorkspaceProblem, match="package that sets pages"):
        printing.brief(built, "", "", tmp_path / "x.pdf", tmp_path / "log")
