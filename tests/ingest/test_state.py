"""The state command tells what the ledger and the snapshots hold, and nothing else."""

from __future__ import annotations

import json
import subprocess
import sys
from contextlib import closing
from datetime import timedelta
from io import StringIO
from pathlib import Path

import duckdb
import pytest
from rich.console import Console

from ingest import show, state
from ingest.contracts import load_contracts
from ingest.errors import Busy, Problem
from ingest.ledger import open_store
from ingest.workspace import Workspace
from tests.ingest.worlds import AT, SETTINGS, make_build, make_workspace

FILES = (
    (1, "h1", "lessons.csv", "routine_lessons", AT, "1", "loaded", 10, 6, 1, 3, 0, 2),
    (2, "h2", "draws.csv", "participation_draws", AT, "1", "refused", 4, 0, 0, 0, 4, 0),
    (
        3,
        "h3",
        "more.csv",
        "routine_lessons",
        AT + timedelta(days=2),
        "1",
        "loaded",
        5,
        5,
        0,
        0,
        0,
        0,
    ),
)
FINDINGS = (
    (
        "h1",
        "routine_lessons",
        "lessons.csv",
        7,
        "minutes",
        "too_large",
        "quarantine",
        "Too long.",
        "A",
    ),
    (
        "h1",
        "routine_lessons",
        "lessons.csv",
        3,
        "minutes",
        "too_large",
        "quarantine",
        "Too long.",
        "A",
    ),
    ("h1", "routine_lessons", "lessons.csv", 9, None, "late", "warn", "Late.", "B"),
    ("h2", "participation_draws", "draws.csv", None, None, "missing_column", "refuse", "No.", "C"),
)

WRITER = """
import sys, duckdb
connection = duckdb.connect(sys.argv[1])
print("open", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path)
    with open_store(made.landing, load_contracts(), tmp_path) as store:
        store.executemany(f"insert into ledger.files values ({', '.join('?' * 13)})", list(FILES))
        store.executemany(
            "insert into ledger.findings values (?, ?, ?, ?, ?, ?, ?, ?, ?)", FINDINGS
        )
        store.execute(
            "insert into ledger.quarantine values "
            "('h1', 'routine_lessons', 'lessons.csv', 3, '{}', ['too_large'], false, 'held', ?, "
            "null, null)",
            [AT],
        )
    return made


def test_every_file_is_told_newest_first_and_balances(workspace: Workspace) -> None:
    told = state.read(workspace, SETTINGS)
    assert [line.file_name for line in told.files] == ["more.csv", "draws.csv", "lessons.csv"]
    lessons = told.files[2]
    assert (lessons.received, lessons.accepted, lessons.known) == (10, 6, 1)
    assert (lessons.quarantined, lessons.refused, lessons.warnings) == (3, 0, 2)
    assert told.balances
    assert told.held_count == 1


def test_a_file_that_does_not_balance_is_seen() -> None:
    line = state.FileLine("x", "y", "loaded", AT, 10, 6, 1, 2, 0, 0)
    assert not line.balances


def test_each_reason_is_told_once_with_its_count_and_first_line(workspace: Workspace) -> None:
    reasons = state.read(workspace, SETTINGS).reasons
    told = {(one.file_name, one.rule): (one.verdict, one.count, one.first_line) for one in reasons}
    assert told == {
        ("lessons.csv", "too_large"): ("quarantine", 2, 3),
        ("lessons.csv", "late"): ("warn", 1, 9),
        ("draws.csv", "missing_column"): ("refuse", 1, None),
    }


def test_held_rows_are_told_by_reason_with_lines_and_whether_a_person_may_let_them_in(
    workspace: Workspace,
) -> None:
    sheet = workspace.corrections / "routine_lessons-h1-to-correct.xlsx"
    [before] = state.read(workspace, SETTINGS).held
    sheet.write_bytes(b"a sheet")
    [held] = state.read(workspace, SETTINGS).held
    assert (held.file_name, held.rules, held.lines) == ("lessons.csv", ("too_large",), (3,))
    assert (held.count, held.can_release, held.message) == (1, False, "Too long.")
    assert (before.correction_sheet, held.correction_sheet) == (None, sheet.name)


def test_rows_let_in_after_the_build_are_counted_as_not_in_it_yet(workspace: Workspace) -> None:
    with closing(duckdb.connect(workspace.landing)) as store:
        store.execute(
            "create or replace view latest.classes as select 'a' as class_id, 'A' as title"
        )
        store.execute(
            "update ledger.quarantine set status = 'released', decided_at = ?",
            [AT + timedelta(days=2)],
        )
    counts = [state.read(workspace, SETTINGS).let_in_count]
    for days in (1, 3):
        make_build(workspace, AT + timedelta(days=days))
        counts.append(state.read(workspace, SETTINGS).let_in_count)
    assert counts == [1, 1, 0]


def test_freshness_counts_what_was_kept_only(workspace: Workspace) -> None:
    (fresh,) = state.read(workspace, SETTINGS).fresh
    assert (fresh.feed, fresh.file_count, fresh.row_count) == ("routine_lessons", 2, 11)
    assert fresh.last_received_at == AT + timedelta(days=2)


def test_files_that_came_after_the_build_are_told(workspace: Workspace) -> None:
    assert len(state.read(workspace, SETTINGS).new_files) == 2
    with closing(duckdb.connect(workspace.landing)) as connection:
        connection.execute(
            "create or replace view latest.classes as select 'a' as class_id, 'A' as title"
        )
    built = make_build(workspace, AT + timedelta(days=1))
    told = state.read(workspace, SETTINGS)
    assert [line.file_name for line in told.new_files] == ["more.csv"]
    assert (told.current, told.as_of_on, told.builds) == (
        built.build_id,
        "2026-05-15",
        (built.build_id,),
    )


def test_waiting_files_are_told_and_half_written_ones_are_not(workspace: Workspace) -> None:
    for name in ("b.csv", "a.csv", ".a.csv.part", "~$b.xlsx"):
        (workspace.inbox / name).write_text("x", encoding="utf-8")
    assert state.read(workspace, SETTINGS).waiting == ("a.csv", "b.csv")


def test_an_empty_workspace_has_a_state_too(tmp_path: Path) -> None:
    told = state.read(make_workspace(tmp_path), SETTINGS)
    assert (told.files, told.current, told.held_count, told.balances) == ((), None, 0, True)
    assert "Nothing has been loaded yet" in shown(told)


def test_a_store_that_is_being_written_to_is_busy_and_a_broken_one_a_problem(
    workspace: Workspace,
) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", WRITER, str(workspace.landing)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    ) as writer:
        assert writer.stdout is not None
        writer.stdout.readline()
        with pytest.raises(Busy):
            state.read(workspace, SETTINGS)
        writer.communicate()
    workspace.landing.write_bytes(b"this is no database" * 500)
    with pytest.raises(Problem, match="cannot be opened"):
        state.read(workspace, SETTINGS)


def test_the_state_is_told_to_people_with_the_next_step(workspace: Workspace) -> None:
    (workspace.inbox / "new.csv").write_text("x", encoding="utf-8")
    text = shown(state.read(workspace, SETTINGS))
    assert "Shown: nothing yet." in text
    assert "Waiting in the inbox: new.csv. Next: roundelay load" in text
    assert "lessons.csv (routine_lessons): set aside, 2 x too_large, first in line 3" in text
    assert "Too long. What to do: A" in text
    assert "Every file balances" in text


def test_the_state_is_told_to_machines_whole(workspace: Workspace) -> None:
    told = json.loads(json.dumps(state.read(workspace, SETTINGS).as_dict(), default=str))
    assert set(told) == {
        "workspace", "school_name", "current", "builds", "waiting", "files", "reasons", "fresh",
        "held", "held_count", "let_in_count", "balances", "new_files", "is_demo", "as_of_on",
        "built_at",
    }  # fmt: skip
    assert told["files"][2]["balances"] is True


def shown(told: state.State) -> str:
    page = StringIO()
    show.state(Console(file=page, width=160, markup=False, highlight=False), told)
    return page.getvalue()
