"""The door's own file of visits, tries and errands."""

from __future__ import annotations

from pathlib import Path

from app.sqlite_file import SqliteFile

FILE = "sessions.sqlite"
_LAYOUT = Path(__file__).with_name("sessions.sql")


class Store(SqliteFile):
    """The file, brought up to the present layout. A visit lost in a power cut is begun anew."""

    def __init__(self, path: Path) -> None:
        super().__init__(path, _LAYOUT, "normal", 5)
        _bring_up_to_date(self)


def _bring_up_to_date(store: Store) -> None:
    """A file that was made before visits knew who is who in the people file learns it."""
    if "person_id" not in {row[1] for row in store.rows("pragma table_info(session)")}:
        store.rows("alter table session add column person_id text not null default ''")
