"""A build is shown as a whole or not at all."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import duckdb
import pytest

from ingest import build, pointer, snapshot
from ingest.build import Maker
from ingest.dbt_run import Plan, command, environment
from ingest.errors import BuildFailed, Busy, WorkspaceProblem
from ingest.steps import Progress, Step
from ingest.workspace import Workspace
from tests.ingest.worlds import (
    AS_OF,
    AT,
    CLASSES,
    MINI,
    SETTINGS,
    column,
    compute,
    land,
    make_build,
    make_workspace,
)

REAL = Maker(project=MINI)
KILLED = 1 if os.name == "nt" else -signal.SIGKILL


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    made = make_workspace(tmp_path / "school with spaces é")
    land(made)
    return made


def test_dbt_builds_tests_and_publishes_and_a_broken_build_leaves_the_one_before(
    workspace: Workspace,
) -> None:
    seen: list[tuple[str, int, int]] = []
    told = replace(SETTINGS, school_name="O'Quill's")
    good = build.run(workspace, told, AS_OF, AT, lambda *step: seen.append(step), REAL)
    school = good.snapshot / "school.duckdb"
    assert column(school, "select school_name from mart_school") == ["O'Quill's"]
    assert column(school, "select as_of_on from mart_school") == [AS_OF]
    assert column(school, "select criterion from mart_school") == [0.8]
    assert seen[0] == ("reading the models", 0, 0)
    assert ("making and testing the tables", 8, 8) in seen
    assert good.warnings == (
        "Check of dim_classes.title: no_class_is_doubtful (2 rows do not hold).",
    )

    land(workspace, [("room-1", None), ("room-2", "Room 2")])
    with pytest.raises(BuildFailed) as failed:
        build.run(workspace, told, AS_OF, AT + timedelta(days=1), maker=REAL)
    assert "Every class has a title to show (1 row does not hold)" in failed.value.rule
    assert "dim_classes.title" in failed.value.rule
    assert Path(failed.value.where).is_file()
    assert pointer.read(workspace) == good.build_id
    assert pointer.published(workspace) == [good.build_id]


def test_a_model_that_cannot_be_made_is_named_with_its_reason(workspace: Workspace) -> None:
    land(workspace, [("room-1", "breaks the model")])
    with pytest.raises(BuildFailed) as failed:
        build.run(workspace, SETTINGS, AS_OF, AT, maker=REAL)
    assert "Table dim_classes could not be made" in failed.value.rule
    assert "told to break" in failed.value.rule
    assert pointer.read(workspace) is None


def test_models_that_cannot_be_read_are_said_in_words(workspace: Workspace, tmp_path: Path) -> None:
    project = tmp_path / "empty"
    project.mkdir()
    with pytest.raises(BuildFailed, match="models could not be read") as failed:
        build.run(workspace, SETTINGS, AS_OF, AT, maker=Maker(project=project))
    assert "dbt_project.yml" in failed.value.rule


def test_a_project_without_a_model_is_a_failed_build(workspace: Workspace, tmp_path: Path) -> None:
    project = tmp_path / "bare"
    project.mkdir()
    for name in ("dbt_project.yml", "profiles.yml"):
        (project / name).write_text((MINI / name).read_text("utf-8"), encoding="utf-8")
    with pytest.raises(BuildFailed, match="Only 0 of 0"):
        build.run(workspace, SETTINGS, AS_OF, AT, maker=Maker(project=project))


def test_the_child_gets_its_own_paths_every_variable_and_no_switch_from_outside(
    workspace: Workspace, tmp_path: Path
) -> None:
    plans: list[Plan] = []

    def keep_plan(plan: Plan, progress: Progress) -> None:
        plans.append(plan)
        compute(plan, progress)

    make_build(workspace, maker=Maker(project=MINI, compute=keep_plan))
    (plan,) = plans
    line = command(plan)
    given = json.loads(line[line.index("--vars") + 1])
    assert set(given) == {
        "as_of_on", "build_id", "built_at", "school_id", "school_name", "time_zone", "is_demo",
        "thresholds", "threshold_notes", "measure_models",
    }  # fmt: skip
    assert given["measure_models"] == ["int_measure_titles"]
    assert given["thresholds"]["criterion"] == 0.8
    assert given["threshold_notes"]["criterion"]["default"] == 0.8
    assert "--no-send-anonymous-usage-stats" in line
    for option in ("--project-dir", "--target-path", "--log-path", "--profiles-dir"):
        assert Path(line[line.index(option) + 1]).is_absolute()
    inner = environment(plan, {"DBT_TARGET_PATH": "elsewhere", "HOME": "home"})
    assert "DBT_TARGET_PATH" not in inner
    assert inner["HOME"] == "home"
    assert inner["ROUNDELAY_WAREHOUSE"] == str(plan.warehouse)


def test_nothing_loaded_is_a_workspace_problem(tmp_path: Path) -> None:
    with pytest.raises(WorkspaceProblem, match="Nothing has been loaded"):
        make_build(make_workspace(tmp_path / "new"))


def test_a_second_build_meanwhile_is_told_who_is_at_work(workspace: Workspace) -> None:
    met: list[Busy] = []

    def try_again(step: Step) -> None:
        if step == Step.COMPUTED:
            with pytest.raises(Busy) as busy:
                make_build(workspace)
            met.append(busy.value)

    make_build(workspace, maker=Maker(compute=compute, hook=try_again))
    assert "building, process" in met[0].where
    assert "since 2026-05-16T07:30:00" in met[0].where


def test_a_second_build_of_another_process_is_refused_too(workspace: Workspace) -> None:
    codes: list[tuple[int, str]] = []

    def try_elsewhere(step: Step) -> None:
        if step == Step.COMPUTED:
            codes.append(_child(workspace, Step.TIDIED))

    make_build(workspace, maker=Maker(compute=compute, hook=try_elsewhere))
    assert codes[0][0] == 1
    assert "ingest.errors.Busy" in codes[0][1]
    assert len(pointer.published(workspace)) == 1


@pytest.mark.parametrize("step", list(Step))
def test_a_build_killed_at_any_step_leaves_a_whole_build_and_no_lock(
    workspace: Workspace, step: Step
) -> None:
    before = make_build(workspace)
    code, said = _child(workspace, step)
    assert (code, said) == (KILLED, "")
    current = pointer.read(workspace)
    is_new = step in (Step.FLIPPED, Step.TIDIED)
    assert (current != before.build_id) == is_new
    assert _is_whole(workspace, str(current))

    after = make_build(workspace, AT + timedelta(days=2), keep=1)
    assert pointer.read(workspace) == after.build_id
    assert {path.name for path in workspace.snapshots.iterdir()} == {"current", after.build_id}
    assert [path.name for path in workspace.builds.iterdir()] == [after.build_id]


def test_two_builds_within_one_second_get_names_of_their_own(workspace: Workspace) -> None:
    first, second = make_build(workspace), make_build(workspace)
    assert first.build_id == "2026-05-15-20260516T073000"
    assert second.build_id == "2026-05-15-20260516T073001"


def test_the_usual_day_is_today_at_the_school_and_the_last_known_day_in_the_demo() -> None:
    late = AT.replace(hour=23)
    assert (
        build.usual_day(replace(SETTINGS, time_zone="Asia/Tokyo"), late).isoformat() == "2026-05-17"
    )
    assert build.usual_day(replace(SETTINGS, is_demo=True), late) == AS_OF


def _child(workspace: Workspace, step: Step) -> tuple[int, str]:
    moment = (AT + timedelta(days=1)).isoformat()
    arguments = [str(workspace.root), step.value, moment]
    done = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("killed_build.py")), *arguments],
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stderr


def _is_whole(workspace: Workspace, build_id: str) -> bool:
    told = snapshot.read(workspace, build_id)
    files = [told.folder / f"{name}.duckdb" for name in told.told["audiences"]]
    files += [told.folder / file for file in told.rooms.values()]
    for file in files:
        with closing(duckdb.connect(file, read_only=True)) as connection:
            (table,) = connection.execute("select table_name from duckdb_tables()").fetchone() or ()
            assert connection.execute(f"select build_id from {table}").fetchone() == (build_id,)
    return len(files) == 3 + len(CLASSES)
