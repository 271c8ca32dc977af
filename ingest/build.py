"""Makes a new build beside the current one and shows it only when every table and test held.

    hold the workspace -> compute the warehouse (dbt) -> copy what may be read -> flush ->
    describe -> flip the pointer -> remove what is too old

Until the pointer is flipped, nothing that a reader opens has changed.
"""

import platform
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from importlib import metadata
from pathlib import Path
from typing import Any

from ingest import clock, dbt_results, dbt_run, keep, lock, old_rounds, pointer, publish
from ingest.dbt_run import Plan
from ingest.errors import WorkspaceProblem
from ingest.settings import Settings
from ingest.steps import Hook, Progress, Step, no_hook, no_progress
from ingest.thresholds import THRESHOLDS
from ingest.workspace import Workspace

Compute = Callable[[Plan, Progress], None]
# The invented school's year is over for it on this day; nothing is known of what follows.
DEMO_AS_OF = date(2026, 5, 15)
PROJECT = Path(__file__).resolve().parents[1] / "dbt_project"


@dataclass(frozen=True)
class Built:
    """A finished build: its name, its snapshot, rows of each table, and what tests warned of."""

    build_id: str
    as_of_on: date
    snapshot: Path
    tables: Mapping[str, Mapping[str, int]]
    room_count: int
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class Maker:
    """What a build is made with; tests put others in."""

    project: Path = PROJECT
    compute: Compute = dbt_run.run
    hook: Hook = no_hook


def run(
    workspace: Workspace,
    settings: Settings,
    as_of_on: date,
    built_at: datetime,
    progress: Progress = no_progress,
    maker: Maker | None = None,
) -> Built:
    """Build, test and publish; raises `BuildFailed` or `Busy` and then changes nothing shown.

    `as_of_on` is the last day the figures know of; `built_at` carries its offset.
    """
    maker = maker or Maker()
    if not workspace.landing.is_file():
        raise WorkspaceProblem(
            "Nothing has been loaded yet.",
            where=str(workspace.root),
            rule="a build is made from what was loaded",
            remedy="load your files first: roundelay load <file> ...",
        )
    with lock.held(workspace, "building", built_at):
        maker.hook(Step.LOCKED)
        keep.tidy(workspace, settings.retention.keep_builds)
        plan = _plan(workspace, settings, as_of_on, built_at, maker.project)
        maker.hook(Step.COMPUTING)
        maker.compute(plan, progress)
        maker.hook(Step.COMPUTED)
        built = _publish(workspace, settings, plan, progress, maker.hook)
        keep.tidy(workspace, settings.retention.keep_builds)
        old_rounds.forget(workspace, settings.retention.keep_rounds_days, built_at)
        maker.hook(Step.TIDIED)
    return built


def usual_day(settings: Settings, moment: datetime) -> date:
    """The as-of day when none is named: today at the school; the last known day of the demo."""
    return DEMO_AS_OF if settings.is_demo else clock.day_in(settings.time_zone, moment)


def measure_models(project: Path) -> list[str]:
    """The measures there are, by looking: a new one touches no old file."""
    return sorted(path.stem for path in project.glob("models/intermediate/measures/**/*.sql"))


def _plan(
    workspace: Workspace, settings: Settings, as_of_on: date, built_at: datetime, project: Path
) -> Plan:
    build_id = _free_id(workspace, as_of_on, built_at)
    variables = {
        "as_of_on": as_of_on.isoformat(),
        "build_id": build_id,
        "built_at": built_at.isoformat(timespec="seconds"),
        "school_id": settings.school_id,
        "school_name": settings.school_name,
        "time_zone": settings.time_zone,
        "is_demo": settings.is_demo,
        "thresholds": dict(settings.thresholds),
        "threshold_notes": {
            one.name: {"default": one.default, "source_note": one.source_note}
            for one in THRESHOLDS.values()
        },
        "measure_models": measure_models(project),
    }
    return Plan(
        build_id=build_id,
        project=project.resolve(),
        landing=workspace.landing,
        folder=workspace.builds / build_id,
        log_folder=workspace.logs / build_id,
        variables=variables,
    )


def _free_id(workspace: Workspace, as_of_on: date, built_at: datetime) -> str:
    """The name of the new build; a second is added while a build of that very second exists."""
    moment = built_at
    while True:
        build_id = f"{as_of_on.isoformat()}-{moment:%Y%m%dT%H%M%S}"
        taken = (workspace.builds / build_id, workspace.snapshots / build_id)
        if not any(path.exists() for path in taken):
            return build_id
        moment += timedelta(seconds=1)


def _publish(
    workspace: Workspace, settings: Settings, plan: Plan, progress: Progress, hook: Hook
) -> Built:
    snapshot = workspace.snapshots / plan.build_id
    tables = publish.tables_of(plan.manifest)
    copied = publish.copy(plan.warehouse, tables, snapshot, progress, hook)
    publish.describe(snapshot, _facts(settings, plan), tables, copied)
    hook(Step.DESCRIBED)
    pointer.flip(workspace, plan.build_id, hook)
    return Built(
        build_id=plan.build_id,
        as_of_on=date.fromisoformat(plan.variables["as_of_on"]),
        snapshot=snapshot,
        tables=copied.audiences,
        room_count=len(copied.rooms),
        warnings=tuple(dbt_results.warnings(plan.target)),
    )


def _facts(settings: Settings, plan: Plan) -> dict[str, Any]:
    named = ("build_id", "as_of_on", "built_at", "school_id", "school_name", "time_zone", "is_demo")
    return {
        **{name: plan.variables[name] for name in named},
        "readers": {name: list(parts) for name, parts in settings.readers.items()},
        "settings_digest": settings.digest,
        "measures": plan.variables["measure_models"],
        "versions": versions(),
    }


def versions() -> dict[str, str]:
    """What a build was made with."""
    packages = ("roundelay", "duckdb", "dbt-core", "dbt-duckdb")
    return {"python": platform.python_version()} | {
        name: metadata.version(name) for name in packages
    }
