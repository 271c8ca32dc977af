"""Who is asking: a token in, a person out, asked anew on every run."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from app.door import accounts as account_file
from app.door import store as door_file
from app.door.accounts import Account, Accounts
from app.door.devices import SOURCE, Devices
from app.door.rules import Rules
from app.door.sessions import Guest, Session, Sessions
from app.door.store import Store
from app.door.throttle import Throttle


@dataclass(frozen=True)
class Identity:
    """A person who is signed in. `reader` is spelled as the setting spells it."""

    subject: str
    shown_name: str
    reader: str
    source: str
    # Who this is in the people file, as the account or the provider says; empty: not said.
    person_id: str = ""
    # When this visit is over at the latest, in seconds since 1970.
    until: float = 0.0


@dataclass(frozen=True)
class Door:
    """Everything that deciding who may come in needs."""

    rules: Rules
    accounts: Accounts
    sessions: Sessions
    throttle: Throttle
    store: Store
    now: Callable[[], float]

    def who(self, cookies: Mapping[str, str]) -> Identity | None:
        """The person whose visit a browser's cookies name; None when it is over or never was."""
        token = cookies.get(self.rules.cookie, "")
        session = self.sessions.find(token, self.now()) if token else None
        if session is None:
            return None
        person = self._person(session)
        if person is None:
            self.sessions.end(token)
            return None
        return replace(person, until=session.ends_at)

    def let_in(self, guest: Guest, instead_of: str = "") -> str:
        """Begin a visit and give its token."""
        return self.sessions.begin(guest, self.now(), instead_of)

    @property
    def devices(self) -> Devices:
        """The class tablets that teachers have paired."""
        return Devices(self.store, self.accounts)

    def _person(self, session: Session) -> Identity | None:
        guest = session.guest
        if guest.source not in self.rules.sources:
            return None
        if session.begun_at < self.accounts.ended_before(guest.subject):
            return None
        if guest.source == SOURCE and not self.devices.is_paired(guest.subject):
            return None
        if not guest.version:
            return Identity(*_told(guest))
        account = self.accounts.of(guest.subject.removeprefix("account:"))
        if account is None or account.version != guest.version:
            return None
        return Identity(*_told(guest_of(account, guest.source)))


def guest_of(account: Account, source: str) -> Guest:
    """An account as the guest of a visit that begins."""
    return Guest(
        account.subject,
        account.version,
        account.shown_name,
        account.reader,
        source,
        account.person_id or "",
    )


def _told(guest: Guest) -> tuple[str, str, str, str, str]:
    return (guest.subject, guest.shown_name, guest.reader, guest.source, guest.person_id)


def open_door(workspace: Path, rules: Rules, now: Callable[[], float]) -> Door:
    """The door of a workspace."""
    store = Store(workspace / door_file.FILE)
    return Door(
        rules=rules,
        accounts=Accounts(workspace / account_file.FILE),
        sessions=Sessions(store, rules.idle_seconds, rules.longest_seconds),
        throttle=Throttle(store),
        store=store,
        now=now,
    )
