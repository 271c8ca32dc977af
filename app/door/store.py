"""The door's own file: one connection, one writer, readable by its owner alone."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

FILE = "sessions.sqlite"
_LAYOUT = Path(__file__).with_name("sessions.sql")


class Store:
    """One SQLite file shared by the server's threads."""

    def __init__(self, path: Path) -> None:
        path.touch(mode=0o600, exist_ok=True)
        path.chmod(0o600)
        self._lock = threading.Lock()
        self._connection = sqlite3.connect(
            path, timeout=5, isolation_level=None, check_same_thread=False
        )
        self._connection.execute("pragma journal_mode = wal")
        self._connection.execute("pragma synchronous = normal")
        self._connection.executescript(_LAYOUT.read_text(encoding="utf-8"))
        _bring_up_to_date(self._connection)

    def rows(self, statement: str, values: Sequence[object] = ()) -> list[tuple]:  # type: ignore[type-arg]
        """Run one statement, and what it answers."""
        with self._lock:
            return self._connection.execute(statement, list(values)).fetchall()

    @contextmanager
    def together(self) -> Iterator[sqlite3.Connection]:
        """Several statements as one: all of them or none."""
        with self._lock:
            self._connection.execute("begin immediate")
            try:
                yield self._connection
            except BaseException:
                self._connection.execute("rollback")
                raise
            self._connection.execute("commit")

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._connection.close()


def _bring_up_to_date(connection: sqlite3.Connection) -> None:
    """A file that was made before visits knew who is who in the people file learns it."""
    columns = {row[1] for row in connection.execute("pragma table_info(session)")}
    if "person_id" not in columns:
        connection.execute("alter table session add column person_id text not null default ''")
