"""The command speaks to a clerk, answers a machine, and never shows a traceback."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from io import StringIO
from pathlib import Path

import click
import pytest
from rich.console import Console

from ingest import blanks, cli, pointer
from ingest.contracts import load_contracts
from ingest.errors import BuildFailed, Busy, Problem, UsageProblem, WorkspaceProblem
from ingest.ledger import open_store
from ingest.lock import held
from ingest.terminal import Terminal, tell, tell_unexpected
from ingest.workspace import Workspace
from tests.ingest.worlds import AT, land, make_build, make_workspace

VERBS = sorted(cli.cli.commands)
JARGON = re.compile(
    r"\b(dbt|duckdb|sql|schema|model|manifest|stdout|stderr|parse|null|boolean|exception|flag)\b",
    re.IGNORECASE,
)


def run(*arguments: str) -> tuple[int, str, str]:
    """Exit code, output and errors of one command."""
    out, err = StringIO(), StringIO()
    terminal = Terminal(
        Console(file=out, width=200, markup=False, highlight=False),
        Console(file=err, width=200, markup=False, highlight=False),
        lambda: AT,
    )
    code = cli.run(arguments, terminal)
    return code, out.getvalue(), err.getvalue()


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path / "ws")
    land(made)
    return made


@pytest.fixture
def help_of(capsys: pytest.CaptureFixture[str]) -> dict[str, str]:
    texts = {}
    for verb in VERBS:
        assert run(verb, "--help")[0] == 0
        texts[verb] = capsys.readouterr().out
    return texts


def test_the_verbs_are_these() -> None:
    files, builds = {"new", "blank", "check", "load", "release"}, {"build", "open", "back", "demo"}
    paper = {"brief", "print", "export"}
    assert set(VERBS) == files | builds | paper | {"state", "account", "copy", "watch"}


def test_every_verb_explains_itself_with_an_example_and_without_jargon(
    help_of: dict[str, str],
) -> None:
    for verb, text in help_of.items():
        assert re.search(rf"Examples:\n +roundelay {verb}\b", text), verb
        assert not JARGON.search(text), (verb, JARGON.search(text))
        assert all(len(line) <= 80 for line in text.splitlines()), verb


def test_every_example_is_a_command_that_is_understood(help_of: dict[str, str]) -> None:
    examples = [
        line.split()[1:]
        for text in help_of.values()
        for line in text.partition("Examples:")[2].splitlines()
        if line.strip().startswith("roundelay ")
    ]
    assert len(examples) >= len(VERBS)
    for verb, *rest in examples:
        command = cli.cli.commands[verb]
        if isinstance(command, click.Group):
            command = command.commands[rest[0]]
        options = {name for one in command.params for name in one.opts}
        assert {word for word in rest if word.startswith("--")} <= options, (verb, rest)


def test_the_first_help_shows_the_three_commands_and_the_exit_codes(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("--help")[0] == 0
    text = capsys.readouterr().out
    for line in ("roundelay new our-school", "roundelay load", "roundelay open", "roundelay demo"):
        assert line in text
    assert "Exit codes:\n    0 all well\n    1 something" in text
    assert "..." not in text.partition("Commands:")[2]


@pytest.mark.parametrize(
    "arguments", [["nonsense"], ["build", "--as-of", "May"], ["new"], ["export", "--x"]]
)
def test_what_is_not_understood_is_said_with_code_2(arguments: Sequence[str]) -> None:
    code, out, err = run(*arguments)
    assert (code, out) == (2, "")
    assert "Error:" in err
    assert "Traceback" not in err


def test_new_asks_nothing_and_says_what_comes_next(tmp_path: Path) -> None:
    code, out, _ = run("new", str(tmp_path / "our-school"), "--zone", "Europe/Dublin")
    assert code == 0
    assert "for Our School (time zone Europe/Dublin)" in out
    assert "Next: roundelay load" in out
    code, _, err = run("new", str(tmp_path / "our-school"))
    assert code == 2
    assert "There is a workspace in this folder already." in err


def test_new_answers_a_machine_with_all_settings(tmp_path: Path) -> None:
    code, out, _ = run("new", str(tmp_path / "q"), "--id", "q1", "--name", "Q", "--json")
    told = json.loads(out)
    assert (code, told["school_id"], told["school_name"]) == (0, "q1", "Q")
    assert told["thresholds"]["criterion"] == 0.8


@pytest.mark.parametrize("verb", ["build", "state", "export", "back", "check", "load", "open"])
def test_a_folder_that_is_no_workspace_is_code_3(tmp_path: Path, verb: str) -> None:
    code, out, err = run(verb, "--workspace", str(tmp_path))
    assert (code, out) == (3, "")
    assert err.splitlines()[0].startswith("This folder is not a workspace yet.")
    assert err.splitlines()[2].startswith("What to do: make one with: roundelay new")


def test_a_problem_is_told_to_a_machine_as_json(tmp_path: Path) -> None:
    code, out, err = run("state", "--json", "--workspace", str(tmp_path))
    told = json.loads(out)
    assert (code, err, told["exit_code"], told["problem"]) == (3, "", 3, "WorkspaceProblem")
    assert set(told) == {"problem", "what", "where", "rule", "remedy", "exit_code"}


def test_a_mistyped_setting_is_found_by_every_command(workspace: Workspace) -> None:
    with workspace.settings_path.open("a", encoding="utf-8") as stream:
        stream.write("[thresholds]\ncriterium = 0.7\n")
    code, _, err = run("state", "--workspace", str(workspace.root))
    assert code == 3
    assert "did you mean thresholds.criterion?" in err


def test_a_busy_workspace_is_code_5(workspace: Workspace) -> None:
    make_build(workspace)
    with held(workspace, "building", AT):
        code, _, err = run("back", "--workspace", str(workspace.root))
    assert code == 5
    assert "Another command is at work in this workspace. (building, process" in err


def test_back_and_state_speak_of_builds(workspace: Workspace) -> None:
    first, second = make_build(workspace).build_id, make_build(workspace).build_id
    code, out, _ = run("back", "--workspace", str(workspace.root))
    assert (code, out) == (0, f"Shown now: {first} (before: {second})\n")
    code, out, _ = run("back", second, "--json", "--workspace", str(workspace.root))
    assert (code, json.loads(out)) == (0, {"current": second, "before": first})
    code, _, err = run("back", "nowhere", "--workspace", str(workspace.root))
    assert code == 2
    assert "There is no build nowhere" in err


def test_export_lists_and_writes(workspace: Workspace, tmp_path: Path) -> None:
    make_build(workspace)
    where = ("--workspace", str(workspace.root))
    assert run("export", *where)[:2] == (0, "mart_school (2 rows)\n")
    assert json.loads(run("export", "--json", *where)[1])[0]["table"] == "mart_school"
    code, out, _ = run("export", "mart_school", "--to", str(tmp_path / "x.csv"), *where)
    assert code == 0
    assert f"Wrote 2 rows to {tmp_path / 'x.csv'}" in out
    assert "x.README.txt before you pass it on" in out
    code, out, _ = run("export", "mart_school", "--to", str(tmp_path / "x.xlsx"), "--json", *where)
    assert json.loads(out) == {"file": str(tmp_path / "x.xlsx"), "notes": None, "row_count": 2}
    assert run("export", "dim_classes", *where)[0] == 2


def test_open_refuses_an_address_that_others_can_reach(workspace: Workspace) -> None:
    code, _, err = run("open", "--address", "0.0.0.0", "--workspace", str(workspace.root))
    assert code == 2
    assert "without a sign-in, others on the network would read" in err
    assert pointer.read(workspace) is None


def test_open_refuses_a_reader_that_does_not_exist(workspace: Workspace) -> None:
    workspace.landing.unlink()
    with open_store(workspace.landing, load_contracts(), workspace.root) as store:
        store.execute(
            "create or replace view latest.classes as select 'a' as class_id, 'A' as title"
        )
    make_build(workspace)
    code, _, err = run("open", "--as", "teacher:nobody", "--workspace", str(workspace.root))
    assert code == 2
    assert "There is no class 'nobody'" in err


def test_a_file_that_is_not_there_loads_nothing(workspace: Workspace) -> None:
    code, _, err = run("load", "nowhere.csv", "--workspace", str(workspace.root))
    assert code == 2
    assert "There is no such file. (nowhere.csv)" in err
    code, _, err = run("load", "--workspace", str(workspace.root))
    assert code == 2
    assert "The inbox is empty." in err


def test_blank_sheets_are_written_once_and_an_unknown_table_is_suggested(tmp_path: Path) -> None:
    code, out, _ = run("blank", "classes", "--to", str(tmp_path / "b"), "--form", "csv", "--json")
    assert code == 0
    assert json.loads(out) == [{"table": "classes", "file": str(tmp_path / "b" / "classes.csv")}]
    assert run("blank", "classes", "--to", str(tmp_path / "b"), "--form", "csv")[0] == 2
    code, _, err = run("blank", "clases", "--to", str(tmp_path / "c"))
    assert code == 2
    assert "did you mean classes?" in err
    written = blanks.write([], tmp_path / "all", "csv")
    assert [table for table, _ in written] == list(load_contracts())


def test_an_unforeseen_fault_leaves_a_log_and_no_traceback(workspace: Workspace) -> None:
    out, err = StringIO(), StringIO()
    terminal = Terminal(Console(file=out), Console(file=err, width=200), lambda: AT)
    try:
        raise KeyError("deep inside")
    except KeyError as fault:
        code = tell_unexpected(terminal, fault, workspace.root)
    assert code == 70
    assert "Traceback" not in err.getvalue()
    assert "What is safe:" in err.getvalue()
    assert "KeyError: 'deep inside'" in (workspace.logs / "20260516T073000.log").read_text("utf-8")


@pytest.mark.parametrize(
    ("kind", "code"),
    [(Problem, 3), (UsageProblem, 2), (WorkspaceProblem, 3), (BuildFailed, 4), (Busy, 5)],
)
def test_each_kind_of_problem_has_its_own_code(kind: type[Problem], code: int) -> None:
    terminal = Terminal(Console(file=StringIO()), Console(file=StringIO()), lambda: AT)
    assert tell(terminal, kind("It happened."), is_json=False) == code
