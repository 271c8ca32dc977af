"""What came in after the build that is shown: told by the command, because only it may look."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from app.desk.desks import Desk
from app.desk.heard import as_object
from app.desk.work import surroundings

_MOST_SECONDS = 60.0


@dataclass(frozen=True)
class Held:
    """Rows of one file that wait for the same reasons, and whether a person may let them in."""

    file_name: str
    feed: str
    can_release: bool
    message: str
    remedy: str
    count: int
    lines: tuple[int, ...]
    correction_sheet: str | None


@dataclass(frozen=True)
class News:
    """Files and rows let in that are not in the build yet, and rows that wait.

    Not known while a command writes.
    """

    is_known: bool = False
    new_files: tuple[str, ...] = ()
    let_in_count: int = 0
    refused: frozenset[str] = frozenset()
    held: tuple[Held, ...] = ()


_KNOWN: dict[Path, tuple[object, News]] = {}
_GATE = threading.Lock()


def news(desk: Desk) -> News:
    """The news of a workspace, asked for anew only when something in it has changed."""
    if not (desk.workspace / "landing.duckdb").is_file():
        return News(is_known=True)
    with _GATE:
        mark = _mark(desk)
        known = _KNOWN.get(desk.workspace)
        if known is not None and known[0] == mark:
            return known[1]
        told = _ask(desk)
        if told.is_known:
            _KNOWN[desk.workspace] = (mark, told)
        return told


def _mark(desk: Desk) -> object:
    """Changes whenever the store, the build shown or a correction sheet does."""
    watched = (
        desk.workspace / "landing.duckdb",
        desk.workspace / "landing.duckdb.wal",
        desk.snapshots / "current",
        desk.corrections,
    )
    return tuple(_times(path) for path in watched)


def _times(path: Path) -> tuple[int, int]:
    try:
        facts = path.stat()
    except OSError:
        return (0, 0)
    return (facts.st_mtime_ns, facts.st_size)


def _ask(desk: Desk) -> News:
    command = [sys.executable, "-P", "-m", "ingest.cli", "state", "--json"]
    try:
        done = subprocess.run(
            command,
            cwd=desk.workspace,
            env=surroundings(desk),
            capture_output=True,
            text=True,
            encoding="utf-8",
            errors="replace",
            timeout=_MOST_SECONDS,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired):
        return News()
    return _news(as_object(done.stdout))


def _news(told: Mapping[str, Any]) -> News:
    try:
        return News(
            is_known=True,
            new_files=tuple(str(name) for name in told["new_files"]),
            let_in_count=int(told["let_in_count"]),
            refused=_refused(told["files"]),
            held=tuple(_held(one) for one in told["held"]),
        )
    except (KeyError, TypeError, ValueError):
        return News()


def _refused(files: Sequence[Mapping[str, Any]]) -> frozenset[str]:
    """Files that were refused when they came last (the newest stands first)."""
    latest: dict[str, str] = {}
    for file in files:
        latest.setdefault(str(file["file_name"]).partition("/")[0], str(file["status"]))
    return frozenset(name for name, status in latest.items() if status == "refused")


def _held(told: Mapping[str, Any]) -> Held:
    sheet = told["correction_sheet"]
    return Held(
        file_name=str(told["file_name"]),
        feed=str(told["feed"]),
        can_release=bool(told["can_release"]),
        message=str(told["message"]),
        remedy=str(told["remedy"]),
        count=int(told["count"]),
        lines=tuple(int(line) for line in told["lines"] if line is not None),
        correction_sheet=str(sheet) if sheet else None,
    )
