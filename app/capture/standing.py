"""Which revisions of a record stand already: in the inbox, or among the files taken up from it."""

from __future__ import annotations

import os
import re
import threading
import time
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from app.capture.keys import UUID_PATTERN

# A folder's time is as coarse as the clock of the system: what changed just now is looked at anew.
_SETTLED_SECONDS = 1.0
_WAITS = rf"([a-z_]+-{UUID_PATTERN})(?:_(\d\d))?\.(?:csv|zip)"
_IN_INBOX, _TAKEN = re.compile(_WAITS), re.compile(f"[0-9a-f]{{12}}-{_WAITS}")
Found = dict[int, Path]


@dataclass(frozen=True)
class _Seen:
    changed_ns: int
    files: dict[str, Found]


_SEEN: dict[Path, _Seen] = {}
_LOCK = threading.Lock()


def file_name(feed: str, key: str, revision: int, suffix: str) -> str:
    """The name of a revision in the inbox. `_` sorts after `.`: the loader takes them in order."""
    return f"{feed}-{key}{suffix}" if revision == 1 else f"{feed}-{key}_{revision:02d}{suffix}"


def revisions(workspace: Path, feed: str, key: str) -> Found:
    """The files of a record by revision.

    The inbox is looked at first: a file leaves it only after its copy stands among the received.
    """
    pattern = re.compile(rf"{re.escape(f'{feed}-{key}')}(?:_(\d\d))?\.(?:csv|zip)")
    found: Found = {}
    for name in _names(workspace / "inbox"):
        if match := pattern.fullmatch(name):
            found[int(match[1] or 1)] = workspace / "inbox" / name
    return {**_received(workspace / "received").get(f"{feed}-{key}", {}), **found}


def last_revisions(workspace: Path, feed: str) -> dict[str, int]:
    """The highest revision of every record of a feed that was ever sent, by its key.

    A record that was taken back can only be given again as the revision after that.
    """
    found: dict[str, int] = {}
    # The inbox first, here too.
    for name in _names(workspace / "inbox"):
        if match := _IN_INBOX.fullmatch(name):
            found[match[1]] = max(found.get(match[1], 0), int(match[2] or 1))
    for record, files in _received(workspace / "received").items():
        found[record] = max(found.get(record, 0), *files)
    start = f"{feed}-"
    return {
        name.removeprefix(start): last for name, last in found.items() if name.startswith(start)
    }


def _names(folder: Path) -> list[str]:
    try:
        with os.scandir(folder) as entries:
            return [entry.name for entry in entries]
    except FileNotFoundError:
        return []


def _received(folder: Path) -> dict[str, Found]:
    """Every taken file of a record, read again only when the folder has changed."""
    try:
        changed = folder.stat().st_mtime_ns
    except FileNotFoundError:
        return {}
    with _LOCK:
        seen = _SEEN.get(folder)
        if seen is not None and seen.changed_ns == changed:
            return seen.files
        files: dict[str, Found] = defaultdict(dict)
        for name in _names(folder):
            if match := _TAKEN.fullmatch(name):
                files[match[1]][int(match[2] or 1)] = folder / name
        if time.time_ns() - changed > _SETTLED_SECONDS * 1e9:
            _SEEN[folder] = _Seen(changed, dict(files))
        return files
