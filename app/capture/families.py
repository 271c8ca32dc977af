"""Practice at home as it was written down: one record for each class, routine and week.

Its key is made of the three, so that every device of the class means the same record, and a later
number is the next revision of it and not a second row that comes into the file by chance order.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from uuid import UUID, uuid5

from app.capture.packed import rows_in
from app.capture.standing import revisions

FEED = "family_practice"
_WEEKS = UUID("1b7b4a0e-4f3c-4b52-9a7e-0c6c1d6a2f35")


@dataclass(frozen=True)
class Week:
    """One routine in one week: the key of its record, the newest revision (0: none), its cells."""

    key: str
    revision: int
    record: Mapping[str, str]


def week_key(class_id: str, routine_id: str, first_on: date) -> str:
    """The key of the record of a class, a routine and a week that begins on this Monday."""
    # A length before each part: no two different triples read alike.
    parts = (class_id, routine_id, first_on.isoformat())
    return str(uuid5(_WEEKS, "".join(f"{len(part)}:{part}" for part in parts)))


def week_of(workspace: Path, class_id: str, routine_id: str, first_on: date) -> Week:
    """What stands of a week, waiting or taken up; numbers from other files are not known here."""
    key = week_key(class_id, routine_id, first_on)
    files = revisions(workspace, FEED, key)
    if not files:
        return Week(key, 0, {})
    newest = max(files)
    rows = rows_in(files[newest], FEED) or [{}]
    return Week(key, newest, rows[0])
