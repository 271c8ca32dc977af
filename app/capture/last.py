"""How often each record of a feed was revised so far, in one look at the two folders."""

from __future__ import annotations

import os
import re
from contextlib import suppress
from pathlib import Path

_UUID = "[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"


def last_revisions(workspace: Path, feed: str) -> dict[str, int]:
    """The highest revision of every record of a feed that was ever sent, by its key.

    A record that was taken back can only be given again as the revision after that.
    """
    pattern = re.compile(rf"(?:[0-9a-f]{{12}}-)?{feed}-({_UUID})(?:_(\d\d))?\.(?:csv|zip)")
    found: dict[str, int] = {}
    # The inbox first: a file leaves it only after its copy stands among the received.
    for folder in ("inbox", "received"):
        with suppress(FileNotFoundError), os.scandir(workspace / folder) as entries:
            for entry in entries:
                if match := pattern.fullmatch(entry.name):
                    found[match[1]] = max(found.get(match[1], 0), int(match[2] or 1))
    return found
