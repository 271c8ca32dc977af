"""Runs dbt as a child process on a new warehouse file, and says its failures in plain words.

A child process, because dbt keeps state of its own in the process it runs in and holds the
warehouse open; when the child has ended, every file is closed.
"""

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TextIO

from ingest.dbt_results import LOG, failure, models_run, silent_failure
from ingest.errors import BuildFailed
from ingest.steps import Progress

# dbt's own file of debugging lines took a third of the time of its workers; we write down what it
# says aloud instead.
_OWN_LOG = ("--log-level-file", "none")
# Unit tests check the models, not the school's data: they run in `make test`, not in every build.
_LEFT_OUT = ("--exclude-resource-type", "unit_test")


@dataclass(frozen=True)
class Plan:
    """One build: which project on which landing store into which new warehouse file."""

    build_id: str
    project: Path
    landing: Path
    folder: Path
    log_folder: Path
    variables: Mapping[str, Any]

    @property
    def warehouse(self) -> Path:
        """The new warehouse file; its name is also dbt's name for the database."""
        return self.folder / "warehouse.duckdb"

    @property
    def target(self) -> Path:
        """Where dbt puts what it makes besides the warehouse."""
        return self.folder / "target"

    @property
    def manifest(self) -> Path:
        """dbt's description of every model."""
        return self.target / "manifest.json"


def run(plan: Plan, progress: Progress) -> None:
    """Build and test every model of the plan; `BuildFailed` says which did not hold, and why."""
    plan.folder.mkdir(parents=True, exist_ok=True)
    plan.log_folder.mkdir(parents=True, exist_ok=True)
    progress("reading the models", 0, 0)
    said: list[str] = []
    with (
        (plan.log_folder / LOG).open("w", encoding="utf-8") as log,
        (plan.log_folder / "stderr.txt").open("w", encoding="utf-8") as errors,
    ):
        child = subprocess.Popen(
            command(plan),
            cwd=plan.folder,
            env=environment(plan, os.environ),
            stdout=subprocess.PIPE,
            stderr=errors,
            text=True,
            encoding="utf-8",
            errors="replace",
        )
        try:
            said = _follow(child, progress, log)
            code = child.wait()
        finally:
            _end(child)
    _judge(plan, code, said)


def command(plan: Plan) -> list[str]:
    """The command line of the child; every path is absolute."""
    return [
        *(sys.executable, "-m", "dbt.cli.main", "--no-send-anonymous-usage-stats"),
        *("--log-format", "json", "--log-path", str(plan.log_folder), "--no-use-colors"),
        *_OWN_LOG,
        *("build", "--project-dir", str(plan.project), "--profiles-dir", str(plan.project)),
        *("--target-path", str(plan.target), "--vars", json.dumps(dict(plan.variables))),
        *_LEFT_OUT,
    ]


def environment(plan: Plan, outer: Mapping[str, str]) -> dict[str, str]:
    """The child's environment: the outer one without dbt's own switches, plus the two files."""
    kept = {name: value for name, value in outer.items() if not name.startswith("DBT_")}
    return kept | {
        "ROUNDELAY_WAREHOUSE": str(plan.warehouse),
        "ROUNDELAY_LANDING": str(plan.landing),
        "PYTHONUTF8": "1",
    }


def _follow(child: subprocess.Popen[str], progress: Progress, log: TextIO) -> list[str]:
    """Show how far the child is and write its words down; returns those about errors."""
    said = []
    for event in _events(child):
        data, info = event.get("data", {}), event.get("info", {})
        message = str(info.get("msg", "")).strip()
        if message:
            log.write(f"{str(info.get('ts', ''))[11:19]} {message}\n")
        if info.get("level") == "error":
            said.append(message)
        total = data.get("total") or data.get("num_models")
        if total and data.get("node_info", {}).get("node_finished_at"):
            progress("making and testing the tables", int(data["index"]), int(total))
    return said


def _events(child: subprocess.Popen[str]) -> Iterator[dict[str, Any]]:
    for line in child.stdout or ():
        try:
            event = json.loads(line)
        except ValueError:
            continue
        if isinstance(event, dict):
            yield event


def _end(child: subprocess.Popen[str]) -> None:
    """Never leave a child behind, whatever happened in the parent."""
    if child.stdout:
        child.stdout.close()
    if child.poll() is None:
        child.terminate()
        try:
            child.wait(timeout=10)
        except subprocess.TimeoutExpired:
            child.kill()
            child.wait()


def _judge(plan: Plan, code: int, said: list[str]) -> None:
    found = failure(plan.target, plan.log_folder)
    if found is not None:
        raise found
    if code != 0 or not plan.manifest.is_file():
        raise silent_failure(said, plan.log_folder)
    made, expected = models_run(plan.target)
    if made != expected or made == 0:
        raise BuildFailed(
            f"Only {made} of {expected} tables were made.",
            where=str(plan.log_folder),
            rule="a build makes every table or is not shown",
            remedy="the build before still stands; look into the log, then run: roundelay build",
        )
