"""Reads who may sign in. Nothing here writes: `roundelay account` does (ingest/accounts.sql)."""

from __future__ import annotations

import sqlite3
import threading
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

FILE = "accounts.sqlite"
_COLUMNS = "account_id, account_name, shown_name, role, class_id, password_hash, version"


@dataclass(frozen=True)
class Account:
    """One person who may sign in, and whose pages she reads."""

    account_id: str
    account_name: str
    shown_name: str
    role: str
    class_id: str | None
    password_hash: str | None = field(repr=False)
    version: int
    person_id: str | None = None

    @property
    def subject(self) -> str:
        """The key of this person in the table of visits."""
        return f"account:{self.account_id}"

    @property
    def reader(self) -> str:
        """The reader as a setting spells it: `principal`, `teacher:room-03`."""
        return self.role if self.class_id is None else f"{self.role}:{self.class_id}"


class Accounts:
    """The open accounts of one workspace; without the file there are none.

    Asked on every request, so the file stays open; one that was put in its place is noticed.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._lock = threading.Lock()
        self._open: tuple[tuple[int, int], sqlite3.Connection] | None = None

    def named(self, typed: str) -> Account | None:
        """The open account of a name as it was typed."""
        found = self._accounts("and account_name = ?", (plain_name(typed),))
        return found[0] if found else None

    def of(self, account_id: str) -> Account | None:
        """The open account of a key."""
        found = self._accounts("and account_id = ?", (account_id,))
        return found[0] if found else None

    def all(self) -> tuple[Account, ...]:
        """Every open account, in the order in which they were made."""
        return self._accounts("order by rowid", ())

    def ended_before(self, subject: str) -> float:
        """The moment before which every visit of this subject is over; 0 when none was set."""
        query = "select coalesce(max(before_at), 0) from ended where subject in (?, '*')"
        found = self._rows(query, (subject,))
        return float(found[0][0]) if found else 0.0

    def _accounts(self, which: str, values: Sequence[str]) -> tuple[Account, ...]:
        layout = self._rows("pragma user_version", ())
        # A file of the first layout does not say who is who; the next account command adds it.
        person = "person_id" if layout and layout[0][0] > 1 else "null"
        query = f"select {_COLUMNS}, {person} from account where is_closed = 0 {which}"
        return tuple(Account(*row) for row in self._rows(query, values))

    def _rows(self, query: str, values: Sequence[str]) -> list[tuple]:  # type: ignore[type-arg]
        with self._lock:
            connection = self._connection()
            return connection.execute(query, list(values)).fetchall() if connection else []

    def _connection(self) -> sqlite3.Connection | None:
        """The connection to the file that stands there now, which may not be the one of before."""
        try:
            seen = self.path.stat()
        except FileNotFoundError:
            return None
        which = (seen.st_dev, seen.st_ino)
        if self._open is None or self._open[0] != which:
            if self._open is not None:
                self._open[1].close()
            where = f"{self.path.as_uri()}?mode=ro"
            opened = sqlite3.connect(where, uri=True, timeout=5, check_same_thread=False)
            self._open = (which, opened)
        return self._open[1]


def plain_name(typed: str) -> str:
    """A name as it is compared: without outer spaces, in one spelling, in lower case."""
    return unicodedata.normalize("NFKC", typed).strip().casefold()
