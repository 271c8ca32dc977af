"""What was written down and is not in the current build yet, read back from where it lies.

A file waits in the inbox until the door takes it up; its copy among the received files then waits
for the next build. Both are told by the key in their names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from app.access import Scope
from app.capture.keep import read
from app.capture.keys import UUID_PATTERN
from app.capture.writers import ask_leave

_END = r"(?:_(\d\d))?\.(?:csv|zip)"


@dataclass(frozen=True)
class Waiting:
    """A record that waits: its key, its cells as last revised, and whether the door took it up."""

    key: str
    record: Mapping[str, str]
    is_taken: bool
    revision: int = 1


def waiting(
    scope: Scope, workspace: Path, feed: str, shown: Set[str], built_at: datetime
) -> list[Waiting]:
    """The records of a feed that the build does not show, in the order they were written down.

    `shown` are the keys in the build. What the door took up before the build was made and the
    build does not show was set aside or taken back: it does not wait.
    """
    ask_leave(scope, feed)
    # The inbox first: what leaves it meanwhile is then found among the received files.
    every = [*_in_inbox(workspace, feed, shown), *_taken(workspace, feed, shown, built_at)]
    found = {one.key: one for one in sorted(every, key=lambda one: (one.revision, one.is_taken))}
    return sorted(found.values(), key=lambda one: (one.record.get("entered_at", ""), one.key))


def _in_inbox(workspace: Path, feed: str, shown: Set[str]) -> Iterator[Waiting]:
    yield from _named(
        workspace / "inbox", feed, rf"{feed}-({UUID_PATTERN}){_END}", shown, is_taken=False
    )


def _taken(workspace: Path, feed: str, shown: Set[str], built_at: datetime) -> Iterator[Waiting]:
    pattern = rf"[0-9a-f]{{12}}-{feed}-({UUID_PATTERN}){_END}"
    yield from _named(workspace / "received", feed, pattern, shown, is_taken=True, since=built_at)


def _named(
    folder: Path,
    feed: str,
    pattern: str,
    shown: Set[str],
    *,
    is_taken: bool,
    since: datetime | None = None,
) -> Iterator[Waiting]:
    for path in folder.iterdir() if folder.is_dir() else ():
        match = re.fullmatch(pattern, path.name)
        if match is None or match[1] in shown or (since and _written_at(path) < since):
            continue
        record = read(path, feed)
        if record is not None:
            yield Waiting(match[1], record, is_taken, int(match[2] or 1))


def _written_at(path: Path) -> datetime:
    try:
        return datetime.fromtimestamp(path.stat().st_mtime, UTC)
    except FileNotFoundError:
        return datetime.min.replace(tzinfo=UTC)
