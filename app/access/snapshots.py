"""Which snapshot is current: the pointer is read anew on each run, so a new build shows at once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from app.access.problems import Broken, NothingBuilt

SHELVES = ("school", "support", "steward", "room")
_NEVER = {("room", role) for role in ("principal", "support", "steward")}


@dataclass(frozen=True)
class Snapshot:
    """One published build: its real folder and what its `build.json` says about it."""

    folder: str
    build_id: str
    built_at: datetime
    is_demo: bool
    rooms: tuple[tuple[str, str], ...]
    readers: tuple[tuple[str, tuple[str, ...]], ...] = ()
    time_zone: str = "UTC"

    def shelves_of(self, role: str, usual: tuple[str, ...]) -> tuple[str, ...]:
        """The shelves that the school's settings give a role; a room is for a teacher only."""
        given = dict(self.readers).get(role, usual)
        return tuple(shelf for shelf in given if shelf in SHELVES and (shelf, role) not in _NEVER)

    def room_file(self, class_id: str) -> str | None:
        """The file of one class inside the folder, None when the build has no such class."""
        return dict(self.rooms).get(class_id)


def current_snapshot(workspace: Path | None) -> Snapshot:
    """The snapshot that the pointer names; `NothingBuilt` or `Broken` when none can be read."""
    if workspace is None:
        raise NothingBuilt
    pointer = workspace / "snapshots" / "current"
    if not pointer.is_file():
        raise NothingBuilt
    name = pointer.read_text(encoding="utf-8").strip()
    shelf = (workspace / "snapshots").resolve()
    folder = (shelf / Path(name).name).resolve()
    if not name or folder.parent != shelf or not folder.is_dir():
        raise Broken(f"The current build is said to be “{name}”, and there is no such folder.")
    return _described(folder)


def _described(folder: Path) -> Snapshot:
    try:
        told = json.loads((folder / "build.json").read_text(encoding="utf-8"))
        return Snapshot(
            folder=str(folder),
            build_id=str(told["build_id"]),
            built_at=datetime.fromisoformat(str(told["built_at"])),
            is_demo=bool(told.get("is_demo", False)),
            rooms=_rooms(folder, told["rooms"]),
            readers=tuple((role, tuple(told["readers"][role])) for role in told["readers"]),
            time_zone=str(told.get("time_zone", "UTC")),
        )
    except (OSError, ValueError, KeyError, TypeError) as problem:
        raise Broken(f"The note of build “{folder.name}” (build.json) cannot be read.") from problem


def _rooms(folder: Path, told: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Class to file, keeping only files that really stand in the rooms folder of this build."""
    home = folder / "rooms"
    files = {class_id: (home / Path(file).name).resolve() for class_id, file in told.items()}
    return tuple(
        (class_id, str(file))
        for class_id, file in sorted(files.items())
        if file.parent == home and file.is_file()
    )
