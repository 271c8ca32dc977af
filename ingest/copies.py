"""A dated copy of what a workspace holds and nothing else could make again.

Left out are builds and snapshots (a build makes them), logs, the lock and the visits of readers.
The copy stands under its name only when it is whole and on the disk.
"""

import sqlite3
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

from ingest import durable, lock
from ingest.errors import UsageProblem, WorkspaceProblem
from ingest.workspace import Workspace

LEFT_OUT = ("builds", "snapshots", "logs", "work.lock", "work.lock.txt", "watch.lock")
_VISITS = "sessions.sqlite"


def make(workspace: Workspace, folder: Path, now: datetime) -> Path:
    """Write the copy into `folder` and give its path.

    `Busy` while another command is at work; `WorkspaceProblem` when it cannot be written, and then
    nothing of it is left; `UsageProblem` for a folder inside the workspace.
    """
    folder = folder.expanduser().resolve()
    if folder.is_relative_to(workspace.root):
        raise UsageProblem(
            "A copy is not kept inside what it is a copy of.",
            where=str(folder),
            rule="the folder lies outside the workspace, best on another disk",
            remedy=f"for example: roundelay copy /var/backups/{workspace.root.name}",
        )
    target = folder / f"{workspace.root.name}-{now:%Y-%m-%dT%H%M%S}.tar.gz"
    part = folder / f".{target.name}.part"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with lock.held(workspace, "copy", now):
            _write(workspace, part)
        durable.flush_file(part)
        durable.replace(part, target)
    except OSError as fault:
        part.unlink(missing_ok=True)
        raise WorkspaceProblem(
            "The copy could not be written; there is none of today.",
            where=str(fault.filename or folder),
            rule=fault.strerror or str(fault),
            remedy="make room on that disk, or name another folder, then run this again",
        ) from fault
    return target


def _write(workspace: Workspace, part: Path) -> None:
    with tarfile.open(part, "w:gz") as copy, tempfile.TemporaryDirectory() as between:
        for path in _members(workspace):
            name = path.relative_to(workspace.root).as_posix()
            is_base = path.suffix == ".sqlite"
            copy.add(_at_rest(path, Path(between)) if is_base else path, name, recursive=False)


def _members(workspace: Workspace) -> Iterator[Path]:
    for path in sorted(workspace.root.rglob("*")):
        first = path.relative_to(workspace.root).parts[0]
        if first in LEFT_OUT or first.startswith(_VISITS) or not path.is_file():
            continue
        if not path.name.endswith((".sqlite-wal", ".sqlite-shm", ".part", ".tmp")):
            yield path


def _at_rest(path: Path, between: Path) -> Path:
    """A small database as it stands between two writings: others may be writing in it."""
    still = between / path.name
    with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(still)) as target:
        source.backup(target)
    return still
