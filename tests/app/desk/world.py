"""A desk over a small real workspace: files of every feed that belong together, nothing built."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest

from app.access import Reader, Snapshot, Visit
from app.access.scopes import Scope
from app.access.snapshots import current_snapshot
from app.desk import Desk, Work, desk_for
from tests.app.snapshot import write_snapshot

BASE = Path(__file__).resolve().parents[2] / "fixtures" / "base"
ROSTER = ("schools", "terms", "people", "classes", "memberships", "routines")
SETTINGS = '[school]\nid = "quillbrook"\nname = "Quillbrook (invented)"\n'


def make_workspace(root: Path) -> Path:
    """A workspace with settings and empty folders, as `roundelay new` leaves it."""
    for name in ("inbox", "received", "corrections", "builds", "snapshots", "logs"):
        (root / name).mkdir(parents=True, exist_ok=True)
    (root / "roundelay.toml").write_text(SETTINGS, encoding="utf-8")
    return root


def visit_of(role: str, workspace: Path, class_id: str | None = None) -> Visit:
    """A visit as the door makes it, over a snapshot without rows."""
    if not (workspace / "snapshots" / "current").exists():
        write_snapshot(workspace, {}, is_demo=False)
    from app.access import scope_for

    snapshot: Snapshot = current_snapshot(workspace)
    reader = Reader(role, class_id)
    scope: Scope = scope_for(snapshot, reader)
    return Visit(snapshot, reader, scope)


def open_desk(monkeypatch: pytest.MonkeyPatch, workspace: Path, who: str = "Office") -> Desk:
    """The steward's desk over a workspace."""
    monkeypatch.setenv("ROUNDELAY_WORKSPACE", str(workspace))
    return desk_for(visit_of("steward", workspace).reader, who)


def wait(work: Work, seconds: float = 120.0) -> Work:
    """The work when it is over."""
    assert work.over.wait(seconds), f"still at work: {work.heard}"
    return work


def until(is_so: object, seconds: float = 60.0) -> None:
    """Ask again until something is so."""
    pause = threading.Event()
    for _ in range(int(seconds * 20)):
        if is_so():  # type: ignore[operator]
            return
        pause.wait(0.05)
    pytest.fail("it did not come about")
