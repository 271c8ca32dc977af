"""What a steward may ask for, as arguments of the command: the same words that a person types."""

from __future__ import annotations

import re
from collections.abc import Sequence

from app.access import Refused
from app.desk.desks import Desk
from app.desk.inbox import path_of
from app.desk.work import Order, Work, start

_MINUTE = 60.0
MOST_LINES = 500
_BUILD_ID = re.compile(r"\d{4}-\d{2}-\d{2}-\d{8}T\d{6}")


def load(desk: Desk, names: Sequence[str] = ()) -> Work:
    """Check and load files of the inbox: those named, or whatever waits there."""
    files = [str(path_of(desk, name)) for name in names]
    about = ", ".join(names) if names else "everything that waits"
    arguments = ("load", "--json", "--follow", "--", *files)
    return start(desk, Order("load", about, arguments, 60 * _MINUTE))


def make_build(desk: Desk) -> Work:
    """Make all figures anew."""
    arguments = ("build", "--json", "--follow")
    return start(desk, Order("build", "all figures", arguments, 120 * _MINUTE))


def go_back(desk: Desk, build_id: str) -> Work:
    """Show an earlier build (or a later one again)."""
    if not _BUILD_ID.fullmatch(build_id):
        raise Refused("There is no build of that name.")
    return start(desk, Order("back", build_id, ("back", "--json", build_id), 5 * _MINUTE))


def let_in(desk: Desk, file_name: str, lines: Sequence[int]) -> Work:
    """Let rows in that a person looked at and found right, in this person's name."""
    chosen = [part for line in lines[:MOST_LINES] for part in ("--line", str(line))]
    if not chosen:
        raise Refused("No row was named.")
    arguments = ("release", "--json", "--by", desk.who, *chosen, "--", file_name)
    few = ", ".join(str(line) for line in lines[:10]) + (", ..." if len(lines) > 10 else "")
    about = f"{file_name}, line {few}"
    return start(desk, Order("release", about, arguments, 10 * _MINUTE))
