"""The builds that are kept, the newest first, and which of them is shown."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from app.desk.desks import Desk


@dataclass(frozen=True)
class Build:
    """One build that can be shown: its name, when it was made, and the last day it knows of."""

    build_id: str
    built_at: datetime
    as_of_on: date
    is_shown: bool


def builds(desk: Desk) -> list[Build]:
    """Every finished build of the workspace; one whose note cannot be read is left out."""
    try:
        shown = (desk.snapshots / "current").read_text(encoding="utf-8").strip()
        folders = list(desk.snapshots.iterdir())
    except OSError:
        return []
    found = [one for folder in folders if (one := _build(folder, shown)) is not None]
    return sorted(found, key=lambda one: one.built_at, reverse=True)


def _build(folder: Path, shown: str) -> Build | None:
    """A folder without its note is not a build: the note is written last."""
    try:
        told = json.loads((folder / "build.json").read_text(encoding="utf-8"))
        return Build(
            build_id=folder.name,
            built_at=datetime.fromisoformat(str(told["built_at"])),
            as_of_on=date.fromisoformat(str(told["as_of_on"])),
            is_shown=folder.name == shown,
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None
