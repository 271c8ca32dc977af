"""The table of visits: who is signed in, since when, until when."""

from __future__ import annotations

from dataclasses import dataclass

from app.door import tokens
from app.door.store import Store

# A visit is marked as seen at most so often: a page asks many times, a minute is fine enough.
_MARK_SECONDS = 60.0
# A class tablet is paired for a day: it may sleep over lunch.
_NEVER_IDLE = "device"
_COLUMNS = "subject, version, shown_name, reader, source, person_id, begun_at, seen_at, ends_at"


@dataclass(frozen=True)
class Guest:
    """Who a visit is for, as known when it begins. `version` is 0 for one without an account.

    `person_id` is who that is in the people file; empty when nobody has said.
    """

    subject: str
    version: int
    shown_name: str
    reader: str
    source: str
    person_id: str = ""


@dataclass(frozen=True)
class Session:
    """One visit that has begun and is not over."""

    guest: Guest
    begun_at: float
    seen_at: float
    ends_at: float


@dataclass(frozen=True)
class Sessions:
    """Begins, finds and ends visits. Times are seconds since 1970."""

    store: Store
    idle_seconds: float
    longest_seconds: float

    def begin(
        self, guest: Guest, now: float, instead_of: str = "", ends_at: float | None = None
    ) -> str:
        """A new visit and its token; the visit that this browser had before is over.

        It ends at `ends_at`, or after the longest time that is allowed.
        """
        token = tokens.new()
        end = now + self.longest_seconds if ends_at is None else ends_at
        told = (guest.subject, guest.version, guest.shown_name, guest.reader, guest.source)
        row = (*told, guest.person_id)
        with self.store.together() as connection:
            connection.execute(
                "delete from session where token_sha256 = ? or ends_at <= ? "
                "or (seen_at <= ? and source <> ?)",
                [tokens.digest(instead_of), now, now - self.idle_seconds, _NEVER_IDLE],
            )
            connection.execute(
                f"insert into session (token_sha256, {_COLUMNS}) "
                "values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                [tokens.digest(token), *row, now, now, end],
            )
        return token

    def find(self, token: str, now: float) -> Session | None:
        """The visit of a token, None when it is over; it is marked as seen."""
        key = tokens.digest(token)
        found = self.store.rows(f"select {_COLUMNS} from session where token_sha256 = ?", [key])
        if not found:
            return None
        session = Session(Guest(*found[0][:6]), *found[0][6:])
        is_idle = now - session.seen_at >= self.idle_seconds
        if now >= session.ends_at or (is_idle and session.guest.source != _NEVER_IDLE):
            self.end(token)
            return None
        if now - session.seen_at >= _MARK_SECONDS:
            self.store.rows("update session set seen_at = ? where token_sha256 = ?", [now, key])
        return session

    def end(self, token: str) -> None:
        """This visit is over."""
        self.store.rows("delete from session where token_sha256 = ?", [tokens.digest(token)])

    def end_all(self, subject: str) -> None:
        """Every visit of this person is over, on every device."""
        self.store.rows("delete from session where subject = ?", [subject])
