"""One SQLite file shared by the server's threads: one connection, one writer, its owner's alone."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Literal


class SqliteFile:
    """A file with a layout. `synchronous` is full where an answer promises that it is on the disk.

    `patience` is how many seconds a change waits for another process; then `sqlite3.Error`.
    """

    def __init__(
        self, path: Path, layout: Path, synchronous: Literal["full", "normal"], patience: float
    ) -> None:
        path.touch(mode=0o600, exist_ok=True)
        path.chmod(0o600)
        self._lock = threading.Lock()
        self._connection = sqlite3.connect(
            path, timeout=patience, isolation_level=None, check_same_thread=False
        )
        self._connection.execute("pragma journal_mode = wal")
        self._connection.execute(f"pragma synchronous = {synchronous}")
        self._connection.executescript(layout.read_text(encoding="utf-8"))

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
