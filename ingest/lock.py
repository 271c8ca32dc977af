"""One writing command at a time in a workspace.

The lock is an exclusive transaction on a tiny SQLite file, because the system itself releases it
when a process dies, on every platform: a lock left behind by a killed command cannot exist. A note
beside it says who holds it; the note is only for the message and is never trusted.
"""

import contextlib
import json
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from ingest.errors import Busy, WorkspaceProblem
from ingest.workspace import Workspace


@contextmanager
def held(workspace: Workspace, doing: str, started_at: datetime) -> Iterator[None]:
    """Hold the workspace while the block runs; `Busy` when another command holds it."""
    connection = _take(workspace, workspace.lock)
    if connection is None:
        raise Busy(
            "Another command is at work in this workspace.",
            where=_holder(workspace),
            rule="one command writes at a time, so that no figure is made from half a file",
            remedy="wait until it has finished, then run this again",
        )
    try:
        _note(workspace).write_text(
            json.dumps({"doing": doing, "process": os.getpid(), "since": started_at.isoformat()}),
            encoding="utf-8",
        )
        yield
    finally:
        with contextlib.suppress(OSError):
            _note(workspace).unlink()
        connection.close()


@contextmanager
def watching(workspace: Workspace) -> Iterator[None]:
    """Be the one that watches a workspace while the block runs; `Busy` when another does.

    Others may write meanwhile: whoever watches takes the other lock when there is work.
    """
    connection = _take(workspace, workspace.lock.with_name("watch.lock"))
    if connection is None:
        raise Busy(
            "This workspace is watched already.",
            where=str(workspace.root),
            rule="one command watches a workspace, so that nothing is built twice",
            remedy="stop the other one first, or let it do the work",
        )
    try:
        yield
    finally:
        connection.close()


def _take(workspace: Workspace, file: Path) -> sqlite3.Connection | None:
    """An exclusive transaction on a file; None while another process has one."""
    try:
        connection = sqlite3.connect(file, timeout=0, isolation_level=None)
    except sqlite3.Error as fault:
        raise _cannot_write(workspace, fault) from fault
    try:
        connection.execute("begin exclusive")
    except sqlite3.OperationalError as fault:
        connection.close()
        if "locked" not in str(fault):
            raise _cannot_write(workspace, fault) from fault
        return None
    return connection


def _cannot_write(workspace: Workspace, fault: sqlite3.Error) -> WorkspaceProblem:
    return WorkspaceProblem(
        "This workspace cannot be written to.",
        where=str(workspace.root),
        rule=str(fault),
        remedy="check that the disk is not full and that you may write in this folder",
    )


def _holder(workspace: Workspace) -> str:
    try:
        note = json.loads(_note(workspace).read_text(encoding="utf-8"))
        return f"{note['doing']}, process {note['process']}, since {note['since'][:19]}"
    except (OSError, ValueError, KeyError, TypeError):
        return str(workspace.root)


def _note(workspace: Workspace) -> Path:
    return workspace.lock.with_name("work.lock.txt")
