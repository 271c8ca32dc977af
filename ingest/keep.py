"""Which builds are kept. Never removes the current snapshot nor one that somebody is reading."""

import shutil
from contextlib import closing
from pathlib import Path

import duckdb

from ingest import pointer
from ingest.workspace import Workspace


def tidy(workspace: Workspace, keep_builds: int) -> list[str]:
    """Remove what is left of unfinished builds, and the oldest beyond the last `keep_builds`.

    Warehouse files are large and identifiable: only those of the current and the newest build stay.
    Returns the names of the snapshots removed. Call it only while the workspace is held.
    """
    current = pointer.read(workspace)
    names = pointer.published(workspace)
    kept = {*names[-keep_builds:], current}
    removed = [
        name for name in names if name not in kept and _remove_snapshot(workspace.snapshots / name)
    ]
    _remove_unfinished(workspace, set(names))
    for folder in _folders(workspace.builds):
        if folder.name not in {current, *names[-1:]}:
            shutil.rmtree(folder, ignore_errors=True)
    return removed


def _remove_unfinished(workspace: Workspace, complete: set[str]) -> None:
    for folder in _folders(workspace.snapshots):
        if folder.name not in complete:
            shutil.rmtree(folder, ignore_errors=True)
    for leftover in workspace.snapshots.glob("current.*.tmp"):
        leftover.unlink(missing_ok=True)


def _folders(parent: Path) -> list[Path]:
    return [path for path in parent.iterdir() if path.is_dir() and pointer.is_build_id(path.name)]


def _remove_snapshot(folder: Path) -> bool:
    if any(_is_in_use(file) for file in sorted(folder.rglob("*.duckdb"))):
        return False
    # The description goes first: from then on the folder is no snapshot, whatever happens.
    (folder / pointer.DESCRIPTION).unlink()
    shutil.rmtree(folder, ignore_errors=True)
    return True


def _is_in_use(file: Path) -> bool:
    """A file that can be opened for writing has no reader: the two exclude each other."""
    try:
        with closing(duckdb.connect(file)):
            return False
    except duckdb.Error:
        return True
