"""Correction sheets, as the command wrote them: to take away, correct and load again."""

from __future__ import annotations

from app.access import Refused
from app.desk.desks import Desk


def sheets(desk: Desk) -> list[str]:
    """The names of the sheets there are, the newest first."""
    try:
        files = [file for file in desk.corrections.glob("*-to-correct.xlsx") if file.is_file()]
        return [file.name for file in sorted(files, key=lambda file: -file.stat().st_mtime_ns)]
    except OSError:
        return []


def sheet(desk: Desk, name: str) -> bytes:
    """The bytes of one sheet; `Refused` for a name that is not among them."""
    if name not in sheets(desk):
        raise Refused("There is no correction sheet of that name any more.")
    return (desk.corrections / name).read_bytes()
