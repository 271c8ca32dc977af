"""A watched workspace with a clock of its own; loads are real, builds use the stand-in for dbt."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path

from ingest import build, intake
from ingest.build import Built, Maker
from ingest.load import FileReport
from ingest.settings import Settings
from ingest.watch import Watched, Works, look
from ingest.workspace import Workspace
from tests.ingest.worlds import compute


@dataclass
class World:
    """A workspace with a clock of its own; loads are real, builds use the stand-in for dbt."""

    workspace: Workspace
    now: datetime
    said: list[str] = field(default_factory=list)
    loads: list[list[str]] = field(default_factory=list)
    builds: list[datetime] = field(default_factory=list)
    seen: Watched = field(default_factory=Watched)
    load_fault: Callable[[list[Path]], None] = lambda files: None
    build_fault: Exception | None = None

    def look(self, after: float = 0) -> None:
        self.now += timedelta(seconds=after)
        works = Works(load=self._load, build=self._build)
        look(self.workspace, self.seen, lambda: self.now, self.said.append, _unforeseen, works)

    def settled(self) -> None:
        """Two looks, so far apart that what lies there is still."""
        self.look()
        self.look(11)

    def setting(self, text: str) -> None:
        with self.workspace.settings_path.open("a", encoding="utf-8") as file:
            file.write(f"[watch]\n{text}\n")

    def _load(
        self, files: list[Path], workspace: Workspace, own: Settings, now: datetime
    ) -> list[FileReport]:
        self.loads.append([file.name for file in files])
        self.load_fault(files)
        found = intake.load(files, workspace, own, now)
        os.utime(workspace.landing, (now.timestamp(), now.timestamp()))
        return found

    def _build(self, workspace: Workspace, own: Settings, day: date, moment: datetime) -> Built:
        self.builds.append(moment)
        if self.build_fault is not None:
            raise self.build_fault
        return build.run(workspace, own, day, moment, maker=Maker(compute=compute))


def _unforeseen(fault: Exception) -> str:
    return f"unforeseen: {fault!r}"
