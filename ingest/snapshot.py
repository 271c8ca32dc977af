"""Reads what a published build says about itself."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ingest import pointer
from ingest.errors import UsageProblem, WorkspaceProblem
from ingest.workspace import Workspace


@dataclass(frozen=True)
class Snapshot:
    """One published build: its folder and the content of its `build.json`."""

    folder: Path
    told: Mapping[str, Any]

    @property
    def build_id(self) -> str:
        """Its name."""
        return str(self.told["build_id"])

    @property
    def rooms(self) -> Mapping[str, str]:
        """Class key to file, relative to the folder."""
        rooms: Mapping[str, str] = self.told["rooms"]
        return rooms

    def tables(self, audience: str) -> Mapping[str, int]:
        """Table name to number of rows, for one audience."""
        tables: Mapping[str, int] = self.told["audiences"][audience]["tables"]
        return tables


def read(workspace: Workspace, build_id: str) -> Snapshot:
    """The named build; `WorkspaceProblem` when its description cannot be read."""
    folder = workspace.snapshots / build_id
    try:
        told = json.loads((folder / pointer.DESCRIPTION).read_text(encoding="utf-8"))
        return Snapshot(folder, {**told, "build_id": str(told["build_id"])})
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise WorkspaceProblem(
            "The description of this build cannot be read.",
            where=str(folder / pointer.DESCRIPTION),
            rule="every published build has one",
            remedy="make a new build: roundelay build, or go to an earlier one: roundelay back",
        ) from fault


def current(workspace: Workspace) -> Snapshot:
    """The current build; `UsageProblem` when nothing was built yet."""
    build_id = pointer.read(workspace)
    if build_id is None:
        raise UsageProblem(
            "There is no build yet.",
            where=str(workspace.root),
            rule="figures are read from a finished build",
            remedy="make one: roundelay build",
        )
    return read(workspace, build_id)
