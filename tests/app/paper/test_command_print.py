"""`roundelay print` prints paper as for the teacher of a class; without a class it names nobody."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import click
import pytest
from rich.console import Console

from app.paper.kinds import KINDS
from ingest import cli, verbs_paper
from ingest.terminal import Terminal
from ingest.workspace import Workspace
from tests.app.invented import rows
from tests.app.invented_rooms import NAMES
from tests.app.paper.reading import Printed
from tests.app.snapshot import BUILD_ID, write_snapshot
from tests.ingest.worlds import AT, make_workspace


@pytest.fixture
def built(tmp_path: Path) -> Workspace:
    workspace = make_workspace(tmp_path / "ws")
    write_snapshot(workspace.root, rows(), is_demo=False)
    return workspace


def run(workspace: Workspace, *arguments: str) -> tuple[int, str, str]:
    out, err = StringIO(), StringIO()
    consoles = [Console(file=file, width=200, markup=False, highlight=False) for file in (out, err)]
    where = ("--school", "quillbrook", "--workspace", str(workspace.root))
    terminal = Terminal(consoles[0], consoles[1], lambda: AT)
    return cli.run(["print", *arguments, *where], terminal), out.getvalue(), err.getvalue()


def test_the_command_offers_what_the_print_room_has() -> None:
    kind = next(one for one in verbs_paper.print_.params if one.name == "kind")
    assert isinstance(kind.type, click.Choice)
    assert set(kind.type.choices) == set(KINDS)


def test_cards_of_a_class_hold_its_names_and_it_is_said(built: Workspace, tmp_path: Path) -> None:
    code, out, err = run(built, "draw-cards", "--class", "room-3", "--out", str(tmp_path))
    file = tmp_path / "draw-cards-2026-05-15.pdf"
    assert (code, err) == (0, "")
    assert f"Wrote {file}" in out
    assert "names are in it" in out
    assert set(NAMES) <= set(Printed(file.read_bytes()).text.split())


def test_without_a_class_no_name_is_on_it(built: Workspace, tmp_path: Path) -> None:
    file = tmp_path / "w.pdf"
    code, out, _ = run(built, "draw-cards", "--out", str(file), "--json")
    assert (code, json.loads(out)) == (0, {"file": str(file), "build_id": BUILD_ID})
    assert set(NAMES) & set(Printed(file.read_bytes()).text.split()) == set()


def test_one_routine_by_its_name(built: Workspace, tmp_path: Path) -> None:
    code, out, _ = run(built, "home", "--routine", "Fair turns", "--out", str(tmp_path / "f.pdf"))
    assert code == 0
    assert "names are in it" not in out
    assert len(Printed((tmp_path / "f.pdf").read_bytes()).file.pages) == 1


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        (("--class", "room-99"), "There is no class of that name"),
        (("--routine", "juggling"), "There is no routine “juggling”"),
    ],
)
def test_what_is_not_there_is_said_and_nothing_is_written(
    built: Workspace, tmp_path: Path, wish: tuple[str, str], told: str
) -> None:
    code, _, err = run(built, "home", *wish, "--out", str(tmp_path / "x.pdf"))
    assert code == 2
    assert told in err
    assert "What to do: choose one that is there" in err
    assert not (tmp_path / "x.pdf").exists()


def test_a_name_that_is_no_pdf_is_refused_with_the_right_command(
    built: Workspace, tmp_path: Path
) -> None:
    code, _, err = run(built, "tally", "--out", str(tmp_path / "x.docx"))
    assert code == 2
    assert "roundelay print tally --out" in err
